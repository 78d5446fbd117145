"""One flat table: a row for each visit, with its unit, what was mended then, and a failure."""

from collections.abc import Sequence

import pandas as pd
from kept_records import FIRST, JOINED_LATE, numbered
from messy_fleet import Tables


def flat_records(tables: Tables, actions: Sequence[str], *, dated: bool) -> pd.DataFrame:
    """Put all that is known into one table, in the contract's words.

    Parameters
    ----------
    tables : Tables
        Units, walkdowns, events, rework.
    actions : sequence of str
        Those that have a column of their own here; work of another kind is not written down.
    dated : bool
        Whether re-work has a day of its own; without, it was done on the day of the visit.

    Returns
    -------
    DataFrame
        A row a walkdown. Beside the columns of units and walkdowns one of yes and no for each
        action, ``done_on``, ``occurred_on`` and ``mode``.
    """
    rows = tables["walkdowns"].merge(tables["units"], on="unit_id", how="left")
    for name in (*actions, "done_on", "occurred_on", "mode"):
        rows[name] = ""
    for job in tables["rework"].itertuples():
        done = [one for one in job.actions.split(";") if one in actions]
        visits = rows[(rows["unit_id"] == job.unit_id) & (rows["inspected_on"] <= job.done_on)]
        if not done or visits.empty or visits["done_on"].iloc[-1]:
            continue
        at = visits.index[-1]
        rows.loc[at, list(actions)] = ["yes" if one in done else "no" for one in actions]
        rows.loc[at, "done_on"] = job.done_on if dated else rows.loc[at, "inspected_on"]
    for failure in tables["events"].itertuples():
        after = rows["inspected_on"] >= failure.occurred_on
        visits = rows[(rows["unit_id"] == failure.unit_id) & after & (rows["occurred_on"] == "")]
        if not visits.empty:
            rows.loc[visits.index[0], ["occurred_on", "mode"]] = [failure.occurred_on, failure.mode]
    return rows


def flat_as_of_first(rows: pd.DataFrame, actions: Sequence[str]) -> pd.DataFrame:
    """Leave out visits and re-work after the first month, and the units that joined late."""
    units = rows.drop_duplicates("unit_id").sort_values(["installed_on", "unit_id"])
    late = units["unit_id"].iloc[-JOINED_LATE:]
    kept = rows[(rows["inspected_on"] <= FIRST) & ~rows["unit_id"].isin(late)].copy()
    kept.loc[kept["done_on"] > FIRST, [*actions, "done_on"]] = ""
    return kept.reset_index(drop=True)


def split(
    rows: pd.DataFrame, of_units: Sequence[str], of_walkdowns: Sequence[str], actions: Sequence[str]
) -> Tables:
    """Say what a flat table says in the contract's tables, as a careful person would."""
    units = rows[["unit_id", *of_units]].drop_duplicates().reset_index(drop=True)
    assert units["unit_id"].is_unique
    visits = rows[["unit_id", *of_walkdowns]].reset_index(drop=True)
    visits.insert(0, "walkdown_id", "")
    mended = rows[rows["done_on"] != ""]
    done = [
        ";".join(name for name in actions if row[name] == "yes") for _, row in mended.iterrows()
    ]
    rework = mended[["unit_id", "done_on"]].assign(actions=done).reset_index(drop=True)
    rework.insert(0, "rework_id", "")
    events = rows.loc[rows["occurred_on"] != "", ["unit_id", "occurred_on", "mode"]]
    events = events.reset_index(drop=True)
    events.insert(0, "event_id", "")
    return {
        "units": units,
        "walkdowns": numbered(visits, "walkdown_id"),
        "events": numbered(events, "event_id"),
        "rework": numbered(rework, "rework_id"),
    }
