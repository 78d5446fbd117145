"""What our tables need and no heading says: asked for, or proposed from the shape of the data."""

from dataclasses import replace

from scoring.contract import TABLE_BY_NAME
from scoring.contract.events import FAILURE_MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.walkdown_kinds import WALKDOWN_KINDS
from scoring.reading_plan.grid import Grid
from scoring.reading_plan.parts_of_tables import FILE, FOLDER, SHEET
from scoring.reading_plan.profile import MOSTLY, Profile
from scoring.reading_plan.propose_words import Asked
from scoring.reading_plan.read_by_plan import FIRST_THEN_PERIODIC
from scoring.reading_plan.what_a_plan_says import (
    ASIDE,
    ASKED,
    LIKELY,
    OPEN,
    PlannedColumn,
    PlannedTable,
    Question,
)

_DATES = ("installed_on", "started_on", "inspected_on", "occurred_on", "done_on")


def with_what_is_missing(
    table: PlannedTable, profiles: dict[str, Profile], grid: Grid, asked: Asked
) -> PlannedTable:
    """Propose, or ask for, required columns that no heading says."""
    table = _unit_id(table, profiles, asked)
    fixed = dict(table.fixed)
    for name in table.feeds:
        lacking = [
            column
            for column in TABLE_BY_NAME[name].required
            if column != TABLE_BY_NAME[name].key and not _filled(table, f"{name}.{column}")
        ]
        for column in lacking:
            table = _dates(table, name, column, profiles, asked)
            if not _filled(table, f"{name}.{column}"):
                fixed |= _fixed(name, column, table, (grid, profiles), asked)
    return replace(table, fixed=fixed)


def _filled(table: PlannedTable, fills: str) -> bool:
    return fills in table.fixed or any(fills in column.fills for column in table.columns)


def _unit_id(table: PlannedTable, profiles: dict[str, Profile], asked: Asked) -> PlannedTable:
    """Take the first column in which no text stands twice for the unit's number, or ask for it.

    Where a unit has several rows, nothing in the cells tells its number from other names.
    """
    if any(f.endswith(".unit_id") for column in table.columns for f in column.fills):
        return table
    names = [c for c in table.columns if not c.fills and _may_name(profiles[c.heading])]
    fills = tuple(f"{name}.unit_id" for name in table.feeds)
    first = next((c for c in names if profiles[c.heading].unique), None)
    if "units" in table.feeds and first is not None:
        because = f"no text stands twice, as {', '.join(profiles[first.heading].texts[:3])}"
        return _with(table, replace(first, fills=fills, because=because, certainty=LIKELY))
    if not names:
        return table
    key = f"{table.feeds[0]}.unit_id"
    choices = tuple(f"{{{c.heading}}}" for c in names)
    asked.setdefault(
        key, Question(key, "No heading says the number of the unit. Which column is it?", choices)
    )
    return replace(table, fixed={**table.fixed, key: OPEN + key})


def _may_name(profile: Profile) -> bool:
    return bool(profile.texts) and profile.dates < MOSTLY and profile.yes_no < MOSTLY


def _dates(
    table: PlannedTable, name: str, column: str, profiles: dict[str, Profile], asked: Asked
) -> PlannedTable:
    """Ask whether a date that is there is also the one that lacks."""
    if column not in _DATES:
        return table
    if name in ("events", "rework") and any(c.means for c in table.columns):
        told = [c for c in table.columns if c.means and f"{name}." in c.fills[0]]
        if told and all(profiles[c.heading].yes_no < 0.5 for c in told):
            return table
    days = [
        one
        for one in table.columns
        if not one.means
        and profiles[one.heading].texts
        and max(profiles[one.heading].dates, profiles[one.heading].serial_dates) >= MOSTLY
    ]
    key = f"{name}.{column}"
    bare = [one for one in days if not one.fills]
    if len(bare) == 1 and len(table.feeds) == 1:
        because = "the only day of this table that no other heading says"
        return _with(table, replace(bare[0], fills=(key,), because=because, certainty=LIKELY))
    seen = [one for one in days if "walkdowns.inspected_on" in one.fills]
    if (
        seen
        and name == "rework"
        and any(c.means and c.fills == ("rework.actions",) for c in table.columns)
    ):
        because = f"{seen[0].because}; also the day of what was done, for the row has no other"
        return _with(table, replace(seen[0], fills=(*seen[0].fills, key), because=because))
    choices = [
        *bare,
        *(one for one in days if any(f.rpartition(".")[2] in _DATES for f in one.fills)),
    ]
    for one in choices[:1]:
        asked.setdefault(
            key,
            Question(
                key, f"No heading says {key}. Is it the day under {one.heading!r}?", (key, ASIDE)
            ),
        )
        return _with(table, replace(one, fills=(*one.fills, OPEN + key), certainty=ASKED))
    return table


def _with(table: PlannedTable, column: PlannedColumn) -> PlannedTable:
    columns = tuple(column if c.heading == column.heading else c for c in table.columns)
    return replace(table, columns=columns)


def _fixed(
    name: str,
    column: str,
    table: PlannedTable,
    seen: tuple[Grid, dict[str, Profile]],
    asked: Asked,
) -> dict[str, str]:
    key = f"{name}.{column}"
    grid, profiles = seen
    others = tuple(
        f"{{{c.heading}}}"
        for c in table.columns
        if not c.fills
        and profiles[c.heading].texts
        and profiles[c.heading].fits(TABLE_BY_NAME[name][column], c.heading) > -5
    )
    told = any(c.means for c in table.columns if c.fills and c.fills[0].startswith(f"{name}."))
    if key == "units.site":
        names = {
            SHEET: (grid.sheet, "the sheet"),
            FILE: (grid.stem, "the file"),
            FOLDER: (grid.folder, "the folder or plant"),
        }
        places = [place for place, (said, _) in names.items() if said]
        shown = ", ".join(f"{names[place][1]} is called {names[place][0]}" for place in places)
        question = Question(
            key,
            f"No heading says the site. What is it: a column, or a name? ({shown})",
            (*others, *places),
            free=True,
        )
    elif key == "units.mounting":
        question = Question(
            key, "No heading says the mounting. What have all units?", EVERY_MOUNTING
        )
    elif key == "walkdowns.kind":
        choices = (FIRST_THEN_PERIODIC, *WALKDOWN_KINDS)
        question = Question(
            key, "No heading says why units were seen. Which kind are these?", choices
        )
    elif key == "events.mode" and not told:
        question = Question(
            key, "No heading says what failed. What did, in all rows?", FAILURE_MODES
        )
    else:
        if not others or name != "units":
            return {}
        question = Question(key, f"No heading says {key}. Which column is it?", (*others, ASIDE))
    asked.setdefault(key, question)
    return {key: OPEN + key}
