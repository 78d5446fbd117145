"""A sheet with one of each kind of block."""

from io import BytesIO

from PIL import Image

from scoring.drawing.shapes import Line, Picture, Role
from scoring.sheets import sheet_blocks
from scoring.sheets.drawing_on_paper import Drawing
from scoring.sheets.formula_tree import (
    Amount,
    Bracketed,
    Formula,
    Function,
    How,
    Name,
    Over,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
)
from scoring.sheets.sheet_blocks import (
    Align,
    Asked,
    AtStation,
    BarRow,
    Bars,
    Beside,
    Blank,
    Block,
    Code,
    Column,
    Facts,
    Heading,
    Labels,
    Photo,
    Points,
    Prose,
    Section,
    Sheet,
    Signatures,
    Table,
    Ticks,
    Together,
    Verdict,
    Weight,
    Worked,
    WriteHere,
    Written,
)
from scoring.walkdown_form.check_picture import draw_where_to_look


def a_photo() -> bytes:
    """Return a small grey picture."""
    file = BytesIO()
    Image.new("RGB", (40, 30), "grey").save(file, "JPEG")
    return file.getvalue()


def a_bar() -> Picture:
    """Return a picture without letters."""
    line = Line(role=Role.FORCE, points=((1.0, 0.0), (1.0, 5.0)))
    return Picture("a bar", "From 1 to 2.", 62.0, 5.0, (line,))


def a_formula(words: str) -> Formula:
    """Return a formula with a part of each kind, each of which says some words."""
    said = Name(Written(words))
    return Sum(
        (
            ("-", Quotient(Product((said, Power(Bracketed(Amount("2 mm")), said))), said)),
            ("+", Root(Over(How.SUM, said))),
            ("-", Function("smaller of", (Name("pi"), Over(How.MEAN, said)))),
            ("+", Over(How.PRODUCT, said)),
        )
    )


def one_of_each(words: str = "some words", *, rows: int = 3) -> tuple[Block, ...]:
    """Return one block of each kind that says some words."""
    said = Written(words)
    return (
        Heading(said),
        Prose(said),
        Prose(said, Weight.STRONG),
        Prose(said, Weight.QUIET),
        Points((said, "another")),
        Points((said, "another"), numbered=True),
        Facts(((said, said), ("torque", Blank.LINE))),
        Table(
            (Column("unit"), Column("hours", Align.RIGHT), Column("why", share=1), Column("done")),
            tuple((said, f"{n}.5", said, Blank.BOX) for n in range(rows)),
            frozenset({1}),
        ),
        Drawing(draw_where_to_look("isolators_free", "keyed_bore")),
        Photo(a_photo(), said, 40.0),
        WriteHere(said),
        Ticks(said, (said, "another")),
        AtStation(
            "A",
            said,
            (Asked("1", said, said, said, (said, "bad")), Asked("2", said, "", said, (), "mm")),
        ),
        Signatures(("inspector", said)),
        Worked(said, "1.5 mm", said, ((said, "2 mm", True), ("b", "3", False)), said),
        Worked(said, "1.5 mm", a_formula(said), (), said, a_formula("3 mm"), said),
        Bars((said, said, said, said, said), (BarRow(said, said, "1 mm", a_bar(), said),)),
        Code(Written("unit?unit=A-1"), said),
        Verdict(said, hold=True, why=said),
        Verdict("watch", hold=False),
        Together((Prose(said),)),
        Beside(((Prose(said),), (Prose(said),)), (2.0, 1.0)),
        Labels(((Code(Written("unit?unit=A-1"), ""),), (Prose(said),))),
    )


def a_sheet(words: str = "some words", *, rows: int = 3) -> Sheet:
    """Return a sheet of two sections, the first with one block of each kind."""
    code = Code(Written("unit?unit=A-1"), Written("A-1"))
    return Sheet(
        "A sheet",
        (
            Section(Written(words), one_of_each(words, rows=rows), "below", code),
            Section("second", (Prose("the end"),)),
        ),
        ("as of 2026-06-30", "records 0123abcd"),
        "Lock out and tag out.",
    )


EVERY_KIND = {kind.__name__ for kind in sheet_blocks.Block.__args__}
