"""What a sheet consists of: some kinds of block, the same for every engine."""

from dataclasses import dataclass, field
from enum import StrEnum

from scoring.drawing.shapes import Picture
from scoring.sheets.drawing_on_paper import Drawing
from scoring.sheets.formula_tree import Formula


class Written(str):
    """Words that a person wrote: an id, a name, a note. They are never said in another language."""

    __slots__ = ()


class Align(StrEnum):
    """Where the cells of a column stand."""

    LEFT = "left"
    RIGHT = "right"


class Blank(StrEnum):
    """A cell that a person fills in with a pen."""

    BOX = "box"
    """A box to tick."""

    LINE = "line"
    """Room to write on a line."""


Cell = str | Blank


class Weight(StrEnum):
    """How a paragraph is read."""

    PLAIN = "plain"
    STRONG = "strong"
    QUIET = "quiet"
    """Second, in smaller letters."""


@dataclass(frozen=True)
class Heading:
    """A heading within a section.

    Attributes
    ----------
    words : str
        What it says.
    level : int
        2 within a section, 3 below that.
    """

    words: str
    level: int = 2


@dataclass(frozen=True)
class Prose:
    """A paragraph.

    Attributes
    ----------
    words : str
        The text; line breaks in it are kept.
    weight : Weight
        How it is read.
    """

    words: str
    weight: Weight = Weight.PLAIN


@dataclass(frozen=True)
class Points:
    """A list, numbered where the order counts.

    Attributes
    ----------
    items : tuple of str
        What it lists.
    numbered : bool
        Whether their order counts.
    """

    items: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True)
class Facts:
    """Names and what they are, in columns.

    Attributes
    ----------
    rows : tuple of (str, Cell)
        A name, and its value with its unit, or room to write it.
    columns : int
        How many pairs stand beside one another.
    """

    rows: tuple[tuple[str, Cell], ...]
    columns: int = 2


@dataclass(frozen=True)
class Column:
    """One column of a table.

    Attributes
    ----------
    heading : str
        With the unit of its numbers.
    align : Align
        Numbers stand right.
    share : float
        Of the room that is left, over those of the others; 0 takes what its words need.
    """

    heading: str
    align: Align = Align.LEFT
    share: float = 0.0


@dataclass(frozen=True)
class Table:
    """A table whose heading is said again on every page.

    Attributes
    ----------
    columns : tuple of Column
        From left to right.
    rows : tuple of tuple of Cell
        One cell for each column.
    strong : frozenset of int
        Rows that are set off, counted from 0.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    strong: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"{len(row)} cells in a table of {len(self.columns)} columns")


@dataclass(frozen=True)
class Photo:
    """A photo that was taken on the spot.

    Attributes
    ----------
    jpeg : bytes
        The picture.
    words : str
        What it shows.
    width_mm : float
        On paper. [mm]
    """

    jpeg: bytes = field(repr=False)
    words: str
    width_mm: float = 80.0


@dataclass(frozen=True)
class WriteHere:
    """Lines to write on.

    Attributes
    ----------
    words : str
        What is to be written there.
    lines : int
        How many, at least.
    fills : bool
        Whether what is left of the page is for writing, too.
    """

    words: str
    lines: int = 2
    fills: bool = False


@dataclass(frozen=True)
class Ticks:
    """A question that is answered by ticking one of a few words.

    Attributes
    ----------
    words : str
        What is asked.
    options : tuple of str
        Words to tick.
    """

    words: str
    options: tuple[str, ...]


@dataclass(frozen=True)
class Asked:
    """One check of a sheet that is filled in with a pen.

    Attributes
    ----------
    mark : str
        Letter or number by which the picture shows its place.
    label, look, good : str
        What it is called, how one looks, and what is good.
    options : tuple of str
        Words to tick, best first.
    entry : str
        Unit in which a number is written, or words for what is; empty where words are ticked alone.
    """

    mark: str
    label: str
    look: str
    good: str
    options: tuple[str, ...] = ()
    entry: str = ""


@dataclass(frozen=True)
class AtStation:
    """The checks that are made at one station, each with room for why it was not seen.

    Attributes
    ----------
    letter : str
        By which the picture shows the station.
    words : str
        Where it is.
    checks : tuple of Asked
        In walking order.
    """

    letter: str
    words: str
    checks: tuple[Asked, ...]


@dataclass(frozen=True)
class Signatures:
    """Places to sign: each with name, day and signature.

    Attributes
    ----------
    roles : tuple of str
        As whom one signs.
    """

    roles: tuple[str, ...]


@dataclass(frozen=True)
class Worked:
    """One number that was worked out, with all that it rests on.

    Attributes
    ----------
    name : str
        What it is called.
    value : str
        With its unit.
    formula : Formula or str
        How it comes about: set as mathematics, or words where it is none.
    inputs : tuple of (str, str, bool)
        Name, value with unit, and whether it was assumed.
    source : str
        Where the formula comes from.
    put_in : Formula, optional
        The formula with the numbers put in.
    remark : str
        What has to be said of the formula.
    """

    name: str
    value: str
    formula: Formula | str
    inputs: tuple[tuple[str, str, bool], ...]
    source: str
    put_in: Formula | None = None
    remark: str = ""


@dataclass(frozen=True)
class BarRow:
    """One bar beside what it is.

    Attributes
    ----------
    name, beside : str
        What it is, and in quiet letters how that is known.
    at_low, at_high : str
        What its ends stand for.
    picture : Picture
        Without letters, on the scale of all bars.
    """

    name: str
    beside: str
    at_low: str
    picture: Picture
    at_high: str


@dataclass(frozen=True)
class Bars:
    """Bars below one another on one scale.

    Attributes
    ----------
    headings : tuple of str
        Of the five columns: name, beside it, the one end, the bars with their scale, the other.
    rows : tuple of BarRow
        From top to bottom.
    """

    headings: tuple[str, str, str, str, str]
    rows: tuple[BarRow, ...]


@dataclass(frozen=True)
class Code:
    """A square code that a phone reads, with words below.

    Attributes
    ----------
    content : str
        What it holds; never told in another language.
    words : str
        What stands below it.
    side_mm : float
        Its side on paper, quiet zone and all. [mm]
    """

    content: Written
    words: str
    side_mm: float = 25.0


@dataclass(frozen=True)
class Verdict:
    """The verdict of a unit, set off strongly where it must not run.

    Attributes
    ----------
    words : str
        In words.
    hold : bool
        Whether it must not run.
    why : str
        The reason, in one sentence.
    """

    words: str
    hold: bool
    why: str = ""


@dataclass(frozen=True)
class Together:
    """Blocks that are never parted by the end of a page.

    Attributes
    ----------
    blocks : tuple of Block
        From top to bottom.
    """

    blocks: "tuple[Block, ...]"


@dataclass(frozen=True)
class Beside:
    """Blocks beside one another.

    Attributes
    ----------
    columns : tuple of tuple of Block
        From left to right.
    shares : tuple of float
        Of the width; by default all alike.
    """

    columns: "tuple[tuple[Block, ...], ...]"
    shares: tuple[float, ...] = ()


@dataclass(frozen=True)
class Labels:
    """Machine labels to cut out, as many in a row as there is room.

    Attributes
    ----------
    labels : tuple of tuple of Block
        What stands on each.
    width_mm, height_mm : float
        Of one label. [mm]
    """

    labels: "tuple[tuple[Block, ...], ...]"
    width_mm: float = 60.0
    height_mm: float = 32.0


Block = (
    Heading
    | Prose
    | Points
    | Facts
    | Table
    | Drawing
    | Photo
    | WriteHere
    | Ticks
    | AtStation
    | Signatures
    | Worked
    | Bars
    | Code
    | Verdict
    | Together
    | Beside
    | Labels
)


@dataclass(frozen=True)
class Section:
    """What begins on a page of its own.

    Attributes
    ----------
    title : str
        Said at its top, and at the top of every page of it.
    blocks : tuple of Block
        From top to bottom.
    below : str
        A line below the title: site, line, mounting.
    code : Code, optional
        At the right of the title.
    """

    title: str
    blocks: tuple[Block, ...]
    below: str = ""
    code: Code | None = None


@dataclass(frozen=True)
class Sheet:
    """One sheet, or as many as one prints at once.

    Attributes
    ----------
    title : str
        What kind of sheet it is, and of what.
    sections : tuple of Section
        Each begins a page.
    foot : tuple of str
        At the foot of each page: as of when, which records, which program.
    cautions : str
        Said at the foot of each page of a sheet that tells somebody to do something to a machine.
    dense : bool
        Whether it is set closely, with narrow margins, so that it fits a pocket.
    """

    title: str
    sections: tuple[Section, ...]
    foot: tuple[str, ...] = ()
    cautions: str = ""
    dense: bool = False
