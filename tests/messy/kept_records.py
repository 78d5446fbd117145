"""Clean records to begin with: some units of a kept plant, renamed, and all that happened."""

import re
from collections.abc import Callable, Sequence
from pathlib import Path

import pandas as pd
from messy_fleet import Tables

PLANTS = Path(__file__).parent.parent / "frozen_plants" / "plants"
FIRST, SECOND = "2026-05-31", "2026-06-30"
JOINED_LATE = 2
"""Units that were not yet in the list in the first month."""

KEYS = {"walkdowns": "walkdown_id", "events": "event_id", "rework": "rework_id"}
DAYS = {"walkdowns": "inspected_on", "events": "occurred_on", "rework": "done_on"}
OF_EVENTS = ("event_id", "unit_id", "occurred_on", "mode", "crew", "downtime_h")
OF_REWORK = ("rework_id", "unit_id", "done_on", "actions", "crew", "hours")


def kept_records(  # noqa: PLR0913 - each says another thing of the plant that is made up
    plant: str,
    site: str,
    count: int,
    *,
    named: Callable[[int], str],
    sites: Sequence[str],
    of_units: Sequence[str],
    of_walkdowns: Sequence[str],
    start: int = 0,
) -> Tables:
    """Take units of one site of a kept plant, under other names, with the columns asked for.

    Parameters
    ----------
    plant, site : str
        Of ``tests/frozen_plants``.
    count, start : int
        So many units in service, beginning at this one.
    named : callable
        From 1, 2, 3 ... to the id.
    sites : sequence of str
        What the sites are called here; units are dealt out among them.
    of_units, of_walkdowns : sequence of str
        Columns beside the keys.
    """
    read = {
        name: pd.read_csv(PLANTS / plant / f"{name}.csv", dtype=str, keep_default_na=False)
        for name in ("units", *KEYS)
    }
    units = read["units"]
    seen = units["unit_id"].isin(
        read["walkdowns"].loc[read["walkdowns"]["inspected_on"] <= FIRST, "unit_id"]
    )
    there = (units["site"] == site) & (units["out_of_service_on"] == "") & seen
    units = units[there].iloc[start : start + count].reset_index(drop=True)
    assert len(units) == count, f"{plant}, {site} has {len(units)} such units, not {count}"
    ids = {old: named(place + 1) for place, old in enumerate(units["unit_id"])}
    units["site"] = [sites[place % len(sites)] for place in range(count)]
    tables = {"units": units[["unit_id", "site", *of_units]].assign(unit_id=list(ids.values()))}
    wanted = {"events": OF_EVENTS, "rework": OF_REWORK}
    wanted["walkdowns"] = ("walkdown_id", "unit_id", *of_walkdowns)
    for name, key in KEYS.items():
        rows = read[name]
        rows = rows[rows["unit_id"].isin(ids)].copy()
        rows[DAYS[name]] = rows[DAYS[name]].str[:10]
        rows = rows.sort_values([DAYS[name], key], kind="stable").reset_index(drop=True)
        rows["unit_id"] = rows["unit_id"].map(ids)
        tables[name] = numbered(rows[list(wanted[name])], key)
    return tables


def numbered(rows: pd.DataFrame, key: str) -> pd.DataFrame:
    """Give each row a key, in the order in which they stand."""
    letter = key[0].upper()
    return rows.assign(**{key: [f"{letter}{place + 1:05d}" for place in range(len(rows))]})


def as_of_first(tables: Tables) -> Tables:
    """Leave out what happened after the first month, and the units that joined the list late."""
    units = tables["units"]
    late = units.sort_values(["installed_on", "unit_id"])["unit_id"].iloc[-JOINED_LATE:]
    found = {"units": units[~units["unit_id"].isin(late)].reset_index(drop=True)}
    for name, day in DAYS.items():
        rows = tables[name]
        kept = (rows[day] <= FIRST) & ~rows["unit_id"].isin(late)
        found[name] = rows[kept].reset_index(drop=True)
    return found


def in_unit(rows: pd.DataFrame, column: str, suffix: str, factor: float, digits: int) -> None:
    """Turn a column into one in another unit, as it would have been read there: rounded."""
    stem = re.sub(r"_(mm|nm|kw|n|kg)$", "", column)
    place = list(rows).index(column)
    told = [f"{round(float(v) * factor, digits):.{digits}f}" if v else "" for v in rows[column]]
    rows.insert(place, f"{stem}_{suffix}", told)
    del rows[column]


def with_work_of(tables: Tables, actions: Sequence[str]) -> Tables:
    """Keep the re-work that this plant has a word for; of other work it keeps no record."""
    rework = tables["rework"]
    known = rework["actions"].map(lambda text: set(text.split(";")) <= set(actions))
    return {**tables, "rework": numbered(rework[known].reset_index(drop=True), "rework_id")}
