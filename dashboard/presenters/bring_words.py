"""Records that are brought in, in words: how they stand, what each column is, what is wrong."""

import re
from collections.abc import Iterable, Sequence
from html import escape

import pandas as pd

from dashboard.presenters.semantic_table import cell, heading, table
from scoring.contract import CHECK_BY_NAME, FLEET_TABLES, TABLE_BY_NAME, Kind
from scoring.contract.events import FAILURE_MODES
from scoring.contract.rework import ACTION_BY_NAME
from scoring.intake import CheckedFleet
from scoring.intake.mend_cells import FaultyRows, Place
from scoring.reading_plan import Grid, PlannedColumn, PlannedTable
from scoring.reading_plan.parts_of_tables import FILE, FOLDER, SHEET
from scoring.reading_plan.read_by_plan import FIRST_THEN_PERIODIC
from scoring.reading_plan.what_a_plan_says import ASIDE, ASKED, NOTHING, OPEN
from scoring.reading_plan.which_table import matched
from scoring.records import SOURCE_STEP

FAULTS_SHOWN = 300
"""So many faults are listed on the page; a file has all that are told. Ours."""

ROWS_SHOWN = 300
"""So many faulty rows of a table are laid out to be put right at once. Ours."""

FIRST_ROWS = 3
"""So many filled cells of each column stand beside what it is taken for."""

TABLE_WORDS = {
    "units": "units",
    "walkdowns": "walkdowns",
    "events": "failures",
    "rework": "re-work",
    "accepted": "accepted findings",
}

PLACES = {
    SHEET: "the name of the sheet",
    FILE: "the name of the file",
    FOLDER: "the name of the plant",
}
"""Where a name may be taken from that no column says."""

MENDED_FIRST = "that row mended first"
"""How advice begins that waits for another row."""

UNITS_OF_MEASURE = (
    "mm", "cm", "m", "in", "ft", "N·m", "kN·m", "lbf·ft", "lbf·in", "kgf·m", "N", "kN", "lbf",
    "kgf", "kg", "t", "lb", "kW", "W", "hp", "PS", "°C", "°F", "mm/s", "in/s",
)  # fmt: skip

FOUND, TAKEN_FOR, UNIT, WHY, SURE = "heading", "stands for", "in", "why", "how sure"
FIRST = "first cells"
UNIT_ID, OF_A_UNIT = ".unit_id", "unit id"
"""One column may tell of which unit all the rows are that come of a row."""


_DOES_MORE = re.compile(r"([\\`*\[\]$<>~|])")


def as_label(text: str) -> str:
    r"""Write text as the label of a field: a screen reader is told the label as it is written.

    So only what could become a link, a picture or a formula is written with a mark before it.

    Examples
    --------
    >>> as_label("shaft_diameter_mm: in place of '8o'"), as_label("![x](y)")
    ("shaft_diameter_mm: in place of '8o'", '!\\[x\\](y)')
    """
    return _DOES_MORE.sub(r"\\\1", text).replace("\n", " ")


def counted(number: int, one: str, several: str = "") -> str:
    """Say how many.

    Examples
    --------
    >>> counted(1, "fault"), counted(3, "fault"), counted(0, "re-work", "re-works")
    ('1 fault', '3 faults', '0 re-works')
    """
    return f"{number} {one if number == 1 else several or one + 's'}"


def how_it_stands(questions: int, rows: int, checked: CheckedFleet | None) -> str:
    """Say how records stand that are being brought in.

    Parameters
    ----------
    questions : int
        How many are open.
    rows : int
        How many were read.
    checked : CheckedFleet or None
        What checking found; None while nothing is read.

    Examples
    --------
    >>> how_it_stands(2, 0, None)
    '2 questions are open; nothing is read before they are answered.'
    """
    if checked is None:
        open_ones = "1 question is" if questions == 1 else f"{questions} questions are"
        return f"{open_ones} open; nothing is read before they are answered."
    good = {name: len(checked.fleet.table(name)) for name in TABLE_WORDS}
    there = ", ".join(f"{number} {TABLE_WORDS[name]}" for name, number in good.items() if number)
    if not checked.how_many_faults:
        return f"No faults. These records can be taken: {there or 'none'}."
    faults = counted(checked.how_many_faults, "fault")
    if checked.unusable:
        names = " and ".join(TABLE_WORDS[name] for name in checked.unusable)
        return f"{faults}. The table of {names} cannot be read at all as it stands."
    bad = sum(len(one.rows) for one in checked.rejected.values())
    in_rows = f"{faults} in {bad} of {rows} rows." if bad else f"{faults}."
    return f"{in_rows} Without a fault: {there or 'none'}."


def can_be_taken(checked: CheckedFleet, *, into_store: bool) -> bool:
    """Tell whether the good rows can be taken."""
    rows = sum(len(checked.fleet.table(name)) for name in TABLE_WORDS)
    return not checked.unusable and rows > 0 and (into_store or not checked.fleet.units.empty)


def column_said(name: str) -> str:
    """Say a column of ours in words.

    Examples
    --------
    >>> column_said("units.shaft_diameter_mm"), column_said("walkdowns.seal_weep")
    ('units: shaft diameter, mm', 'walkdowns: output seal')
    """
    owner, _, column = name.partition(".")
    known = TABLE_BY_NAME[owner][column]
    check = CHECK_BY_NAME.get(column) if owner == "walkdowns" else None
    unit = known.unit
    plain = column.replace("_", " ")
    if unit and plain.split()[-1] in ("mm", "nm", "kw", "n", "c", "deg", "h", "kg", "rpm", "s"):
        plain = plain.rpartition(" ")[0].removesuffix(" mm")
    said = check.label if check else plain
    return f"{TABLE_WORDS[owner]}: {said}{f', {unit}' if unit else ''}"


def taken_for(column: PlannedColumn) -> str:
    """Say what a column is taken for.

    Examples
    --------
    >>> taken_for(PlannedColumn("Oil")), taken_for(PlannedColumn("Tag", ("units.unit_id",)))
    ('left aside', 'units: unit id')
    """
    if any(one.startswith(OPEN) for one in column.fills) or column.means.startswith(OPEN):
        return "asked above"
    if column.means:
        return f"{'failure' if column.means in FAILURE_MODES else 'done'}: {_plain(column.means)}"
    if not column.fills:
        return "left aside"
    if len(column.fills) > 1 and all(one.endswith(UNIT_ID) for one in column.fills):
        return OF_A_UNIT
    return "; ".join(column_said(one) for one in column.fills)


def targets(part: PlannedTable) -> dict[str, str]:
    """Return what a column may stand for: what is said of it, and how the plan is told.

    Parameters
    ----------
    part : PlannedTable
        The part of a plan that the column is of.
    """
    offered = {"left aside": ASIDE}
    for column in part.columns:
        if not any(one.startswith(OPEN) for one in (*column.fills, column.means)):
            offered[taken_for(column)] = column.means or " and ".join(column.fills) or ASIDE
    for name in part.feeds:
        if name in TABLE_BY_NAME:
            for known in TABLE_BY_NAME[name].columns:
                one = f"{name}.{known.name}"
                offered.setdefault(column_said(one), one)
    # of which unit a row is, one heading tells in every sheet that has it
    offered = {
        said: told if told.partition(".")[2] != UNIT_ID[1:] else UNIT_ID[1:]
        for said, told in offered.items()
    }
    if len(part.feeds) > 1:
        offered = {OF_A_UNIT: "unit_id"} | {
            said: told for said, told in offered.items() if not said.endswith(OF_A_UNIT)
        }
        offered |= {f"done: {_plain(name)}": name for name in ACTION_BY_NAME}
        offered |= {f"failure: {_plain(name)}": name for name in FAILURE_MODES}
    return offered


def tables_fed() -> dict[str, str]:
    """Return what a source may be: what is said of it, and how the plan is told."""
    return {TABLE_WORDS[one.name]: one.name for one in FLEET_TABLES} | {"left aside": "none"}


def feeds_said(part: PlannedTable) -> str:
    """Say which of our tables a source gives to."""
    return ", ".join(TABLE_WORDS.get(name, name) for name in part.feeds) or "left aside"


def grid_of(part: PlannedTable, grids: Sequence[Grid]) -> Grid | None:
    """Return the first of some grids that a part of a plan was made from."""
    return next((one for one in grids if one.name in part.sources), None)


def columns_table(part: PlannedTable, grids: Sequence[Grid]) -> pd.DataFrame:
    """Return what each column of a source is taken for, beside its first cells."""
    grid = grid_of(part, grids)
    found = matched(grid, (part,)) if grid is not None else None
    first: dict[str, str] = {}
    if grid is not None and found is not None:
        for place, name in enumerate(found.layout.headings):
            cells = grid.columns[place][found.layout.body :].slice(0, 200).to_pylist()
            first[name] = " | ".join([text.strip() for text in cells if text.strip()][:FIRST_ROWS])
    return pd.DataFrame(
        {
            FOUND: [one.heading for one in part.columns],
            FIRST: [first.get(one.heading, "") for one in part.columns],
            TAKEN_FOR: [taken_for(one) for one in part.columns],
            UNIT: ["" if one.unit.startswith(OPEN) else one.unit for one in part.columns],
            WHY: [_because(one, part) for one in part.columns],
            SURE: ["asked" if one.certainty == ASKED else one.certainty for one in part.columns],
        },
        dtype=object,
    )


def _because(column: PlannedColumn, part: PlannedTable) -> str:
    is_date = any(
        TABLE_BY_NAME[owner][name].kind is Kind.DATE
        for owner, _, name in (one.partition(".") for one in column.fills)
        if owner in TABLE_BY_NAME and name in TABLE_BY_NAME[owner].column_by_name
    )
    order = column.dates or part.dates
    dates = f"dates as {order}" if is_date and order and not order.startswith(OPEN) else ""
    return "; ".join(one for one in (column.because, dates) if one)


def columns_list(rows: pd.DataFrame) -> str:
    """Return the columns of a source as a table: what each is taken for, and why."""
    headings = "".join(heading(words) for words in (FOUND, FIRST, TAKEN_FOR, UNIT, WHY, SURE))
    lines = "".join(
        f'<tr role="row">{cell(_named(found))}{cell(_named(first))}{cell(escape(meant))}'
        f"{cell(escape(unit))}{cell(escape(why))}{cell(escape(sure))}</tr>"
        for found, first, meant, unit, why, sure in zip(
            *(rows[name] for name in (FOUND, FIRST, TAKEN_FOR, UNIT, WHY, SURE)), strict=True
        )
    )
    return table("listed columns", headings, lines)


def unit_said(column: PlannedColumn) -> str:
    """Return the unit in which a column is taken to be; empty where none is said."""
    return "" if column.unit.startswith(OPEN) else column.unit


def is_measured(column: PlannedColumn) -> bool:
    """Tell whether a column stands for something that has a unit.

    Examples
    --------
    >>> is_measured(PlannedColumn("Ø", ("units.shaft_diameter_mm",)))
    True
    >>> is_measured(PlannedColumn("Tag", ("units.unit_id",)))
    False
    """
    for one in column.fills:
        owner, _, name = one.partition(".")
        known = TABLE_BY_NAME[owner].column_by_name.get(name) if owner in TABLE_BY_NAME else None
        if known is not None and known.unit:
            return True
    return False


def units_offered(unit: str) -> list[str]:
    """Return the units of measure that a column may be in; none said is the first.

    Examples
    --------
    >>> units_offered("furlong")[:2]
    ['', 'furlong']
    """
    return list(dict.fromkeys(("", unit, *UNITS_OF_MEASURE)))


def unit_choice(unit: str) -> str:
    """Say a unit; where none is said, the values are in ours.

    Examples
    --------
    >>> unit_choice(""), unit_choice("in")
    ('the unit that is usual here', 'in')
    """
    return unit or "the unit that is usual here"


def words_known(column: PlannedColumn) -> dict[str, str]:
    """Return the words found in a column, and what each stands for."""
    return {word: meant for word, meant in column.words.items() if not meant.startswith(OPEN)}


def words_offered(column: PlannedColumn) -> tuple[str, ...]:
    """Return what the words of a column may stand for; nothing where it has none.

    Examples
    --------
    >>> words_offered(PlannedColumn("Oil", ("walkdowns.oil_level",), words={"ok": "right"}))
    ('right', 'high', 'low', '(nothing)')
    """
    owner, _, name = column.fills[0].partition(".") if column.fills else ("", "", "")
    known = TABLE_BY_NAME[owner].column_by_name.get(name) if owner in TABLE_BY_NAME else None
    if known is None or not known.allowed or not words_known(column) or column.means:
        return ()
    return (*known.allowed, NOTHING)


def word_key(column: PlannedColumn, word: str) -> str:
    """Return the key by which a plan is told what a word stands for."""
    return f"{column.fills[0]}.{word}"


def changed_cells(before: pd.DataFrame, after: pd.DataFrame, name: str) -> dict[int, str]:
    """Return the cells of one column that a person changed, by row."""
    old, new = before[name].fillna("").tolist(), after[name].fillna("").tolist()
    return {at: str(n) for at, (o, n) in enumerate(zip(old, new, strict=True)) if o != n}


def faults_list(faults: pd.DataFrame) -> str:
    """Return the faults as a table: where, what was found, what would be right."""
    headings = "".join(
        heading(words) for words in ("where", "under", "found", "what is wrong", "would be right")
    )
    rows = "".join(
        f'<tr role="row">{cell(_where(one))}{cell(_named(one.column))}{cell(_named(one.value))}'
        f"{cell(escape(str(one.wrong)))}{cell(escape(str(one.right)))}</tr>"
        for one in faults.head(FAULTS_SHOWN).itertuples(index=False)
    )
    return table("listed faults", headings, rows)


def _where(fault: object) -> str:
    row, source = getattr(fault, "row", 1), getattr(fault, "source", "")
    return f'row {row}<span class="where" translate="no">{escape(str(source))}</span>'


def _named(text: object) -> str:
    return f'<span translate="no">{escape(str(text))}</span>'


def rows_to_mend(faulty: FaultyRows, faults: pd.DataFrame) -> pd.DataFrame:
    """Return the faulty rows of a table with what is wrong in each, to be put right there."""
    places = list(faulty.cells.index[:ROWS_SHOWN])
    wrong = [
        "; ".join(
            f"{faults['column'].iloc[at]}: {faults['wrong'].iloc[at]}".removeprefix(": ")
            for at in some
        )
        for some in faulty.faults[:ROWS_SHOWN]
    ]
    right = [
        "; ".join(dict.fromkeys(str(faults["right"].iloc[at]) for at in some))
        for some in faulty.faults[:ROWS_SHOWN]
    ]
    beside = pd.DataFrame(
        {
            "row": [str(number % SOURCE_STEP) for number, _ in places],
            "what is wrong": wrong,
            "would be right": right,
        },
        dtype=object,
    )
    return pd.concat([beside, faulty.cells.iloc[:ROWS_SHOWN].reset_index(drop=True)], axis=1)


def mends_of(faulty: FaultyRows, after: pd.DataFrame) -> dict[Place, dict[str, str]]:
    """Return what a person wrote into the faulty rows, by row and heading."""
    places = list(faulty.cells.index[:ROWS_SHOWN])
    found: dict[Place, dict[str, str]] = {}
    for name in faulty.cells.columns:
        for at, text in changed_cells(faulty.cells.iloc[:ROWS_SHOWN], after, name).items():
            found.setdefault(places[at], {})[name] = text
    return found


def found_alike(faulty: FaultyRows, faults: pd.DataFrame) -> dict[tuple[str, str], list[Place]]:
    """Return where the same stands wrong, by heading and text, the commonest first.

    What only waits for another row to be put right is left out.
    """
    same: dict[tuple[str, str], list[Place]] = {}
    waits = faults["right"].str.startswith(MENDED_FIRST).to_numpy(dtype=bool)
    rows = zip(faulty.cells.index, faulty.headings, faulty.faults, strict=True)
    for number, (place, headings, some) in enumerate(rows):
        wrong = [name for name, at in zip(headings, some, strict=True) if not waits[at]]
        for name in dict.fromkeys(wrong):
            if name in faulty.cells:
                text = str(faulty.cells[name].iloc[number])
                same.setdefault((name, text), []).append(place)
    return dict(sorted(same.items(), key=lambda one: -len(one[1])))


def instead_of(name: str, text: str, places: Sequence[Place]) -> str:
    """Say what one text would be written in the place of, in how many rows, or in which.

    Examples
    --------
    >>> instead_of("guard", "fited", [(2, 0), (3, 0)]), instead_of("site", "", [(7, 0)])
    ("guard: in place of 'fited', in 2 rows", 'site: where nothing stands, in row 7')
    """
    what = f"in place of {text!r}" if text else "where nothing stands"
    rows = f"{len(places)} rows" if len(places) > 1 else f"row {places[0][0] % SOURCE_STEP}"
    return f"{name}: {what}, in {rows}"


def allowed_for(table_name: str, name: str) -> tuple[str, ...]:
    """Return the words that a column may hold; none where it holds something else."""
    known = TABLE_BY_NAME[table_name].column_by_name.get(name)
    return known.allowed if known is not None and known.kind is Kind.CHOICE else ()


def name_of(files: Iterable[str]) -> str:
    """Return what records go by that were dropped: the name of the one file, or none.

    Examples
    --------
    >>> name_of(["north_pit.xlsx"]), name_of(["a.csv", "b.csv"])
    ('north_pit.xlsx', 'records brought in')
    """
    names = [name for name in files if not name.endswith(".toml")]
    return names[0] if len(names) == 1 else "records brought in"


def question_said(asks: str) -> str:
    """Say a question with our columns in words.

    Examples
    --------
    >>> question_said("No heading says units.shaft_diameter_mm. Which column is it?")
    "No heading says 'units: shaft diameter, mm'. Which column is it?"
    >>> question_said("Under 'Oil', what does yes mean for oil_level?")
    "Under 'Oil', what does yes mean for oil level?"
    """

    def in_words(found: re.Match[str]) -> str:
        owner, _, name = found[0].partition(".")
        known = TABLE_BY_NAME[owner].column_by_name if owner in TABLE_BY_NAME else {}
        return f"'{column_said(found[0])}'" if name in known else found[0]

    said = re.sub(r"\b[a-z]+\.[a-z_]+\b", in_words, asks)
    return re.sub(r"(?<= mean for )\w+(?=\?)", lambda found: _plain(found[0]), said)


def choice_said(choice: str) -> str:
    """Say an answer in words.

    Examples
    --------
    >>> choice_said("walkdowns.guard"), choice_said("(leave aside)"), choice_said("clean_dry")
    ('walkdowns: guard', 'left aside', 'clean dry')
    >>> choice_said("{file}"), choice_said("{Area}")
    ('the name of the file', "what stands under 'Area'")
    """
    known = {
        ASIDE: "left aside",
        NOTHING: "nothing",
        FIRST_THEN_PERIODIC: "the first after installation, later ones periodic",
        **PLACES,
    }
    if choice in known:
        return known[choice]
    if choice.startswith("{") and choice.endswith("}"):
        return f"what stands under {choice[1:-1]!r}"
    parts = choice.split(" and ")
    if all(
        owner in TABLE_BY_NAME and name in TABLE_BY_NAME[owner].column_by_name
        for owner, _, name in (one.partition(".") for one in parts)
    ):
        return "; ".join(column_said(one) for one in parts)
    return _plain(choice) if re.fullmatch(r"[a-z]+(_[a-z]+)+", choice) else choice


def _plain(name: str) -> str:
    return name.replace("_", " ")
