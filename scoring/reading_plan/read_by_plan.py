"""Grids of cells and a plan: the tables of the contract."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
import pyarrow as pa

from scoring.contract import TABLE_BY_NAME, WALKDOWNS
from scoring.contract.rework import ACTION_BY_NAME
from scoring.contract.walkdown_kinds import PERIODIC, POST_INSTALL
from scoring.errors import FixableError
from scoring.intake import RawTable, RawTrouble
from scoring.reading_plan.answers_to_questions import open_questions
from scoring.reading_plan.grid import Grid
from scoring.reading_plan.made_keys import LACKS_KEY, with_made_keys
from scoring.reading_plan.parts_of_tables import Part, parts_of
from scoring.reading_plan.what_a_plan_says import Plan
from scoring.reading_plan.which_table import Matched, matched
from scoring.records import ROW, SOURCE_STEP

FIRST_THEN_PERIODIC = "the first post_install, later ones periodic"
"""What a plan may say of the kinds of walkdowns where no column tells them."""


@dataclass(frozen=True)
class PlannedRecords:
    """What a plan made of some grids.

    Attributes
    ----------
    tables : dict of str to RawTable
        By table; they pass the same checks as any other.
    notes : tuple of str
        What a person should know: what is new, what was left aside.
    unread : tuple of Grid
        Grids that no part of the plan reads.
    """

    tables: dict[str, RawTable]
    notes: tuple[str, ...]
    unread: tuple[Grid, ...]


def read_by_plan(plan: Plan, grids: Sequence[Grid]) -> PlannedRecords:
    """Read grids by a plan.

    Parameters
    ----------
    plan : Plan
        Without open questions.
    grids : sequence of Grid
        Sheets, files, answers to queries; those that the plan does not know are left alone.

    Returns
    -------
    PlannedRecords

    Raises
    ------
    FixableError
        If a question of the plan is open: nothing is guessed.

    Examples
    --------
    >>> from scoring.reading_plan.what_a_plan_says import PlannedColumn, PlannedTable
    >>> columns = (PlannedColumn("Tag", ("units.unit_id",)),)
    >>> plan = Plan((PlannedTable(("a.csv",), ("units",), columns=columns),))
    >>> read = read_by_plan(plan, [Grid.from_rows("a.csv", "", [["Tag", "x"], ["C-1", "y"]])])
    >>> read.tables["units"].column("unit_id"), read.notes[0]
    (['C-1'], 'a.csv: new headings, which the plan does not know: x')
    """
    _refuse_open(plan)
    found = [(grid, matched(grid, plan.tables)) for grid in grids]
    parts: dict[str, list[tuple[str, Part]]] = {}
    notes: list[str] = []
    for grid, match in found:
        if match is None or not match.table.feeds:
            continue
        here, left, unknown = parts_of(match, plan.languages)
        for name, part in here.items():
            parts.setdefault(name, []).append((grid.name, part))
        notes += _notes(match, left, unknown)
    tables = {name: _table(name, many) for name, many in parts.items()}
    tables = {
        name: table for name, table in tables.items() if len(table.rows) or name != "accepted"
    }
    if "units" in tables and WALKDOWNS.name not in tables:
        tables[WALKDOWNS.name] = _nothing_seen(tables["units"])
        notes.append("no walkdowns: nothing was seen yet of any unit")
    unread = tuple(grid for grid, match in found if match is None)
    return PlannedRecords(tables, tuple(notes), unread)


def _refuse_open(plan: Plan) -> None:
    asked = open_questions(plan)
    if asked:
        said = "\n".join(
            f"  {q.key}: {q.asks} ({'; '.join(q.choices)}{'; or another' if q.free else ''})"
            for q in asked
        )
        raise FixableError(
            f"the reading plan has {len(asked)} open "
            f"{'question' if len(asked) == 1 else 'questions'}; nothing is read before they are "
            f"answered:\n{said}\nanswer with: mount-risk reading-plan SOURCE --plan FILE "
            f'--answer "{asked[0].key}={asked[0].choices[0] if asked[0].choices else "..."}"'
        )


def _notes(match: Matched, left: tuple[int, ...], unknown: list[str]) -> list[str]:
    grid, known = match.grid, match.table.by_heading()
    there = [heading for heading in match.layout.headings if heading]
    notes = []
    new = [heading for heading in there if heading not in known]
    if new:
        notes.append(f"{grid.name}: new headings, which the plan does not know: {', '.join(new)}")
    if unknown:
        notes.append(f"{grid.name}: words that the plan does not know: {', '.join(unknown[:10])}")
    if new or unknown:
        notes.append("what is new is proposed by: mount-risk reading-plan SOURCE --plan FILE")
    gone = [h for h, column in known.items() if column.fills and h not in there]
    if gone:
        notes.append(f"{grid.name}: headings of the plan that are not there: {', '.join(gone)}")
    if left:
        rows = ", ".join(str(row) for row in left[:10]) + (" and more" if len(left) > 10 else "")
        notes.append(f"{grid.name}: no records by the plan: row {rows}")
    return notes


def _table(name: str, parts: list[tuple[str, Part]]) -> RawTable:
    """Put the parts of one table together, with their keys."""
    frames, troubles = [], list[RawTrouble]()
    for place, (_, part) in enumerate(parts):
        step = SOURCE_STEP * place
        frames.append(part.frame.assign(**{ROW: part.frame[ROW].to_numpy(dtype=np.int64) + step}))
        troubles += [replace(t, row=t.row + step) for t in part.troubles]
    key = TABLE_BY_NAME[name].key
    if len({key in one for one in frames}) > 1:
        frames = [one.assign(**{LACKS_KEY: key not in one}) for one in frames]
    frame = pd.concat(frames, ignore_index=True).fillna("") if len(frames) > 1 else frames[0]
    several = any(part.several_tables for _, part in parts)
    if name == "walkdowns":
        frame = _kinds_told(frame)
    if name == "rework" and several:
        frame = _together_by_day(frame)
    if name == "units" and (several or len(parts) > 1):
        frame = _merged_where_they_agree(frame)
    frame = with_made_keys(name, frame)
    if several and name != "units":
        frame = frame.drop_duplicates([column for column in frame if column != ROW])
    headings = tuple(str(column) for column in frame.columns if column != ROW)
    return RawTable(
        name,
        tuple(source for source, _ in parts),
        headings,
        tuple(pa.array(frame[column].astype(str).tolist(), pa.string()) for column in headings),
        frame[ROW].to_numpy(dtype=np.int64),
        (),
        tuple(troubles),
        tuple(part.given for _, part in parts),
    )


def _kinds_told(frame: pd.DataFrame) -> pd.DataFrame:
    """Say which walkdowns were the first of their units, where the plan tells kinds so."""
    if "kind" not in frame or not (frame["kind"] == FIRST_THEN_PERIODIC).any():
        return frame
    first = frame.sort_values(["inspected_on", ROW], kind="stable").groupby("unit_id").head(1).index
    open_ones = frame["kind"] == FIRST_THEN_PERIODIC
    told = np.where(frame.index.isin(first), POST_INSTALL, PERIODIC)
    return frame.assign(kind=frame["kind"].where(~open_ones, pd.Series(told, index=frame.index)))


def _together_by_day(frame: pd.DataFrame) -> pd.DataFrame:
    """Make one row of what was done at a unit on one day."""
    if not {"unit_id", "done_on", "actions"} <= set(frame.columns):
        return frame
    keys = [name for name in ("rework_id", "unit_id", "done_on") if name in frame.columns]
    order = {name: place for place, name in enumerate(ACTION_BY_NAME)}

    def joined(actions: "pd.Series[str]") -> str:
        words = {word for text in actions for word in text.split(";") if word}
        return ";".join(sorted(words, key=lambda word: (order.get(word, len(order)), word)))

    by_day = frame.groupby(keys, sort=False)
    first = {name: "first" for name in frame.columns if name not in (*keys, "actions")}
    together = by_day.agg({**first, "actions": joined}).reset_index()
    return together[list(frame.columns)]


def _merged_where_they_agree(frame: pd.DataFrame) -> pd.DataFrame:
    """Make one row of the rows of a unit that do not contradict each other."""
    if "unit_id" not in frame or not frame["unit_id"].duplicated().any():
        return frame
    said = frame.drop(columns=ROW).replace("", np.nan)
    groups = said.groupby("unit_id", sort=False)
    agree = (groups.nunique(dropna=True) <= 1).all(axis=1)  # noqa: PD101 - of groups
    first = groups.first()
    first[ROW] = frame.groupby("unit_id", sort=False)[ROW].first()
    merged = first[agree].reset_index()
    rest = frame[~frame["unit_id"].isin(merged["unit_id"])]
    both = pd.concat([merged, rest], ignore_index=True).sort_values(ROW, kind="stable")
    return both[list(frame.columns)].fillna("").reset_index(drop=True)


def _nothing_seen(units: RawTable) -> RawTable:
    headings = WALKDOWNS.required
    empty = tuple(pa.array([], pa.string()) for _ in headings)
    return RawTable(WALKDOWNS.name, units.sources[:1], headings, empty, np.empty(0, dtype=np.int64))
