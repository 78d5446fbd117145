"""The tables ``walkdowns``, ``events`` and ``rework``: the book's rows, dated and with keys."""

import numpy as np
import pandas as pd

from demo_data.arrays import Flags, Floats, Whole, Words
from demo_data.blanks import blank_unless
from demo_data.chance import Chance, Draws
from demo_data.crews import Crews
from demo_data.fault_table import CHECK_AT
from demo_data.inspections import DECIMALS
from demo_data.known_actions import ACTION_AT, is_off_shaft
from demo_data.plant_run import KINDS
from demo_data.record_book import Ledger, RecordBook
from demo_data.repairs import actions_text
from demo_data.seal_sides import is_outboard, side_words
from scoring.contract import CHECKS, EVENTS, REWORK, WALKDOWNS
from scoring.contract.declaration import Kind
from scoring.contract.details import CONTACT_PLACES
from scoring.contract.events import FAILURE_MODES
from scoring.contract.walkdowns import AFTER_START, PERIODIC

TIMED_SHARE = 0.12
NOTED_SHARE = 0.03
NOTES = np.array(
    ["seen by torch only", "belt was loaded", "photo taken", "cramped; one side only"],
    dtype=object,
)


def _keys(prefix: str, order: Whole) -> Words:
    """Return keys that count up in the given order."""
    width = max(5, len(str(len(order))))
    number = pd.Series(np.arange(1, len(order) + 1).astype(str)).str.zfill(width)
    keys = np.empty(len(order), dtype=object)
    keys[order] = prefix + number.to_numpy(dtype=object)
    return keys


def _day_text(first: np.datetime64, day: Whole, known: Flags | None = None) -> Words:
    text = (first + np.maximum(day, 0)).astype(str).astype(object)
    return text if known is None else blank_unless(known, text)


def _names(names: Words, at: Whole) -> Words:
    return blank_unless(at >= 0, names[np.maximum(at, 0)])


def walkdown_table(
    chance: Chance, book: RecordBook, units: Words, crews: Crews, first: np.datetime64
) -> pd.DataFrame:
    """Write the walkdowns down.

    Parameters
    ----------
    chance : Chance
        Source of chance.
    book : RecordBook
        What was seen.
    units : object array, shape (units,)
        Keys of the units.
    crews : Crews
        Names of the inspectors.
    first : numpy.datetime64
        First day of the records.

    Returns
    -------
    pandas.DataFrame
        Columns in the contract's order, by day; numbers as numbers, words and dates as text.
    """
    ledger = book.walkdowns
    unit, day, kind = ledger.column("unit"), ledger.column("day"), ledger.column("kind")
    order = np.lexsort((np.arange(len(day)), unit, day))
    timed = np.isin(kind, [KINDS.index(AFTER_START), KINDS.index(PERIODIC)])
    draws = chance.at(unit, day)
    timed &= draws.share("timed") < TIMED_SHARE
    minutes = draws.whole("time", 6 * 4, 18 * 4) * 15
    with_time = (first + day).astype("datetime64[m]") + minutes
    written = ledger.column("written")
    noted = draws.share("noted") < NOTED_SHARE
    note = NOTES[draws.whole("note", 0, len(NOTES))]
    named = draws.share("named") < 0.93
    columns: dict[str, object] = {
        "walkdown_id": _keys("W", order),
        "unit_id": units[unit],
        "inspected_on": np.where(timed, with_time.astype(str), _day_text(first, day)),
        "kind": np.array(KINDS, dtype=object)[kind],
        "recorded_at": _day_text(first, written, written >= 0),
        "inspector": blank_unless(named, crews.inspectors[ledger.column("inspector")]),
        "notes": blank_unless(noted, note),
    }
    values = ledger.column("values")
    for check in (check for check in CHECKS if check.part_of and check.name in CHECK_AT):
        part, whole = CHECK_AT[check.name], CHECK_AT[check.part_of]
        # nobody writes down more of a part than of the whole
        values[:, part] = np.where(
            values[:, part] > values[:, whole], values[:, whole], values[:, part]
        )
    symptoms = {
        "seal_weep": ledger.column("weep"),
        "running_temperature_c": ledger.column("temperature"),
        "vibration_mm_s": ledger.column("vibration"),
        "witness_mark": ledger.column("mark"),
    }
    # what this generator does not know is never seen
    unseen = np.full(len(day), np.nan)
    for check in CHECKS:
        known = check.name in CHECK_AT
        raw = values[:, CHECK_AT[check.name]] if known else symptoms.get(check.name, unseen)
        columns[check.name] = _cells(raw, check.kind, check.allowed, _decimals(check.name))
    table = _with_details(draws, pd.DataFrame(columns), unit, chance)
    table = table.reindex(columns=[column.name for column in WALKDOWNS.columns])
    return table.iloc[order].reset_index(drop=True)


def _with_details(draws: Draws, table: pd.DataFrame, unit: Whole, chance: Chance) -> pd.DataFrame:
    """Say where metal touched and which seal it was, where somebody wrote it down.

    Both stay the same at a unit: it is one place that touches, and one seal that is bad.
    """
    of_unit = chance.at(unit)
    place = np.array(CONTACT_PLACES, dtype=object)[of_unit.whole("contact at", 0, 5)]
    touches = (table["metal_contact"] == "yes").to_numpy()
    bad = table["seal_lip"].isin(["painted", "damaged"]) | table["seal_weep"].isin(
        ["damp", "dripping"]
    )
    return table.assign(
        contact_at=blank_unless(touches & (draws.share("contact at") < 0.6), place),
        seal_side=side_words(
            bad.to_numpy() & (draws.share("seal side") < 0.5), is_outboard(chance, unit)
        ),
    )


def _decimals(check: str) -> int:
    return int(DECIMALS[CHECK_AT[check]]) if check in CHECK_AT else 1


def _cells(raw: Floats, kind: Kind, allowed: tuple[str, ...], decimals: int) -> object:
    if kind is Kind.CHOICE:
        words = np.array([*allowed, None], dtype=object)
        return words[np.where(np.isnan(raw), len(allowed), raw).astype(np.int64)]
    if kind is Kind.COUNT or decimals == 0:
        return pd.array(np.round(raw), dtype="Float64").astype("Int64")
    return np.round(raw, decimals)


def _costs(plate: pd.DataFrame, unit: Whole, mode: Whole) -> tuple[Floats, Floats]:
    # what is of no mode that is scored costs as much as a leak
    part_of = {"low_speed_bearing": "bearing", "joint_slip": "slip"}
    part = np.array([part_of.get(name, "leak") for name in FAILURE_MODES], dtype=object)[mode]
    hours, cost = np.zeros(len(unit)), np.zeros(len(unit))
    for name in ("bearing", "leak", "slip"):
        here = part == name
        hours[here] = plate[f"{name}_repair_h"].iloc[unit[here]]
        cost[here] = plate[f"{name}_repair_cost"].iloc[unit[here]]
    return hours, cost


def event_table(
    book: RecordBook, plate: pd.DataFrame, units: Words, crews: Crews, first: np.datetime64
) -> tuple[pd.DataFrame, Words]:
    """Write the failures down.

    Parameters
    ----------
    book : RecordBook
        What failed.
    plate : pandas.DataFrame
        Nameplates, nothing blank: what repairs cost.
    units : object array, shape (units,)
        Keys of the units.
    crews : Crews
        Names of the crews.
    first : numpy.datetime64
        First day of the records.

    Returns
    -------
    table : pandas.DataFrame
        Columns in the contract's order, by day.
    keys : object array
        Key of each event, in the book's order.
    """
    ledger = book.events
    unit, day, mode = ledger.column("unit"), ledger.column("day"), ledger.column("mode")
    order = np.lexsort((unit, day))
    keys = _keys("E", order)
    hours, cost = _costs(plate, unit, mode)
    stretch, recorded, written = (
        ledger.column(name) for name in ("stretch", "recorded", "written")
    )
    table = pd.DataFrame(
        {
            "event_id": keys,
            "unit_id": units[unit],
            "occurred_on": _day_text(first, day),
            "mode": np.array(FAILURE_MODES, dtype=object)[mode],
            "recorded_at": _day_text(first, written, written >= 0),
            "crew": _names(crews.names, ledger.column("crew")),
            "downtime_h": np.where(recorded, np.round(hours * stretch, 1), np.nan),
            "cost": np.where(recorded & (stretch < 1.5), np.round(cost * stretch, -1), np.nan),
            "notes": None,
        },
    ).reindex(columns=[column.name for column in EVENTS.columns])
    return table.iloc[order].reset_index(drop=True), keys


def rework_table(
    book: RecordBook, events: Words, units: Words, crews: Crews, first: np.datetime64
) -> pd.DataFrame:
    """Write the re-work down.

    Parameters
    ----------
    book : RecordBook
        What was done.
    events : object array
        Key of each event, in the book's order.
    units : object array, shape (units,)
        Keys of the units.
    crews : Crews
        Names of the crews.
    first : numpy.datetime64
        First day of the records.

    Returns
    -------
    pandas.DataFrame
        Columns in the contract's order, by day.
    """
    ledger: Ledger = book.rework
    unit, day, actions = ledger.column("unit"), ledger.column("day"), ledger.column("actions")
    order = np.lexsort((unit, day))
    stretch, recorded, written = (
        ledger.column(name) for name in ("stretch", "recorded", "written")
    )
    outboard = ledger.column("outboard")
    of_seal = actions[:, ACTION_AT["renew_seal"]]
    number = actions.sum(axis=1) + 4 * is_off_shaft(actions, outboard)
    size = np.where(number > 1, 3.0, 2.0)
    table = pd.DataFrame(
        {
            "rework_id": _keys("R", order),
            "unit_id": units[unit],
            "done_on": _day_text(first, day),
            "actions": actions_text(actions),
            "seal_side": side_words(of_seal & outboard, outboard),
            "recorded_at": _day_text(first, written, written >= 0),
            "event_id": _names(events, ledger.column("event")),
            "crew": _names(crews.names, ledger.column("crew")),
            "hours": np.where(recorded, np.round((1.0 + 1.5 * number) * stretch * 2) / 2, np.nan),
            "crew_size": pd.array(np.where(recorded, size, np.nan), dtype="Float64").astype(
                "Int64"
            ),
            "notes": None,
        },
    ).reindex(columns=[column.name for column in REWORK.columns])
    return table.iloc[order].reset_index(drop=True)
