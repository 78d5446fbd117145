"""All that records and a store keep of one walkdown, for its sheet."""

from datetime import datetime
from typing import Any

import numpy as np
import pandas as pd

from scoring.access.allowed import require_at
from scoring.assessment import FleetAssessor
from scoring.contract import CHECK_BY_NAME, Check
from scoring.contract.not_seen import NOT_SEEN_REASONS
from scoring.drawing.walk_stations import station_of
from scoring.drawing.what_was_seen import in_unit
from scoring.entering.photos import find_photo, photos_of, smaller_photo
from scoring.entering.releases import releases_of
from scoring.entering.sign_offs import find_sign_off, not_seen_of
from scoring.errors import FixableError
from scoring.limits import unit_limits, walkdown_exceedance
from scoring.records import Fleet, unit_has
from scoring.rules import JudgedUnits
from scoring.rules.rule import Severity
from scoring.sheets.filled_walkdown import (
    FilledWalkdown,
    FindingThen,
    ReleaseKept,
    SeenCheck,
    Signed,
)
from scoring.store.open_store import Store
from scoring.store.schema import RECORDS
from scoring.walkdown_form.steps import WALKING_ORDER

_ASKS_FOR = {Severity.HOLD: "hold", Severity.CORRECT: "correct", Severity.WATCH: "watch"}


def last_walkdown_of(fleet: Fleet, unit_id: str) -> str:
    """Return the last walkdown of a unit.

    Raises
    ------
    FixableError
        If there is no such unit, or nobody has walked to it.
    """
    if not (fleet.units["unit_id"] == unit_id).any():
        raise FixableError(f"there is no unit {unit_id!r}; ids are case-sensitive")
    theirs = fleet.walkdowns[fleet.walkdowns["unit_id"] == unit_id]
    if theirs.empty:
        raise FixableError(f"there is no walkdown of unit {unit_id!r} on record")
    in_order = theirs.sort_values(
        ["inspected_on", "recorded_at"], kind="stable", na_position="first"
    )
    return str(in_order["walkdown_id"].iloc[-1])


def walkdown_as_filled(
    fleet: Fleet, walkdown_id: str, store: Store | None = None
) -> FilledWalkdown:
    """Return what is kept of one walkdown.

    Parameters
    ----------
    fleet : Fleet
        The records of its unit, perhaps among others.
    walkdown_id : str
        The walkdown.
    store : Store, optional
        Where signatures, photos, reasons and releases are kept; none of files.

    Returns
    -------
    FilledWalkdown
        Findings and verdict as they stood at the end of the day on which it was written down.

    Raises
    ------
    FixableError
        If there is no such walkdown.
    """
    here = np.flatnonzero(fleet.walkdowns["walkdown_id"] == walkdown_id)
    if not len(here):
        raise FixableError(f"there is no walkdown {walkdown_id!r}; ids are case-sensitive")
    row = fleet.walkdowns.iloc[here].reset_index(drop=True)
    unit_id = str(row["unit_id"].iloc[0])
    day = row[["inspected_on", "recorded_at"]].max(axis=1).iloc[0].normalize()
    judged = FleetAssessor(fleet).judge(day)
    findings = _findings(judged, unit_id)
    kept = _kept_in_store(store, walkdown_id, unit_id, str(row["inspected_on"].iloc[0].date()))
    reasons = kept.pop("reasons")
    unit = fleet.units[fleet.units["unit_id"] == unit_id].reset_index(drop=True)
    places = np.flatnonzero(judged.known.units["unit_id"] == unit_id)
    return FilledWalkdown(
        walkdown_id,
        unit_id,
        _text(unit, "site"),
        _text(unit, "line"),
        _text(unit, "driven_equipment"),
        _text(unit, "mounting"),
        seen_on=str(row["inspected_on"].iloc[0].date()),
        kind=_text(row, "kind"),
        inspector=_text(row, "inspector"),
        notes=_text(row, "notes"),
        verdict=str(judged.verdicts.verdict[places[0]]) if len(places) else "",
        seen=_seen(row, unit, reasons, findings),
        findings=findings,
        not_seen=str(judged.look_status.not_seen[places[0]]) if len(places) else "",
        keeps_signatures=store is not None,
        **kept,
    )


def _text(table: pd.DataFrame, name: str) -> str:
    value = table[name].iloc[0]
    return "" if pd.isna(value) else str(value)


def _findings(judged: JudgedUnits, unit_id: str) -> tuple[FindingThen, ...]:
    table = judged.findings.table
    mine = table[table["unit_id"] == unit_id]
    seen_on = mine["seen_on"].dt.strftime("%Y-%m-%d").fillna("")
    columns = (mine["check"], mine["severity"], mine["reason"], mine["do"], seen_on)
    return tuple(
        FindingThen(
            str(check),
            int(severity) == Severity.HOLD,
            _ASKS_FOR[Severity(int(severity))],
            str(what),
            str(do) or "look closer",
            str(day),
        )
        for check, severity, what, do, day in zip(*columns, strict=True)
    )


def _seen(
    row: pd.DataFrame,
    unit: pd.DataFrame,
    reasons: dict[str, str],
    findings: tuple[FindingThen, ...],
) -> tuple[SeenCheck, ...]:
    """Return each check of the unit as this walkdown has it."""
    beyond = walkdown_exceedance(row, unit_limits(unit).table)
    numbers = {finding.check: number for number, finding in enumerate(findings, 1)}
    kind = _text(row, "kind")
    seen = []
    for name in WALKING_ORDER:
        check = CHECK_BY_NAME[name]
        value = row[name].iloc[0]
        is_asked = not check.asked_on or kind in check.asked_on
        if not unit_has(check, unit, 0) or (pd.isna(value) and not is_asked):
            continue
        station = station_of(name).letter
        if pd.isna(value):
            why = NOT_SEEN_REASONS.get(reasons.get(name, ""), "no reason given")
            seen.append(SeenCheck(station, check.label, "not seen", why))
            continue
        is_bad = bool(beyond[name].iloc[0] > 0)
        result = f"finding {numbers[name]}" if is_bad and name in numbers else "worse than good"
        seen.append(
            SeenCheck(
                station, check.label, _said(check, value), result if is_bad else "good", is_bad
            )
        )
    return tuple(seen)


def _said(check: Check, value: Any) -> str:  # noqa: ANN401 - a number, or a word of the contract
    if check.allowed:
        return check.words_of(str(value))
    word = f"{value:g}"
    return check.options.get(word) or in_unit(float(value), check.unit)


def _kept_in_store(
    store: Store | None, walkdown_id: str, unit_id: str, seen_on: str
) -> dict[str, Any]:
    """Return what a store keeps beside the values of a walkdown."""
    if store is None:
        return {"reasons": {}, "version": 0}
    walkdowns = RECORDS["walkdowns"]
    with store.reading() as connection:
        require_at(connection, unit_id)
        version = connection.scalar(
            walkdowns.select()
            .with_only_columns(walkdowns.c.version)
            .where(walkdowns.c.walkdown_id == walkdown_id)
        )
        signed = find_sign_off(connection, walkdown_id, int(version or 0))
        photos = [
            (CHECK_BY_NAME[one["check"]].label, find_photo(connection, one["photo_id"]))
            for one in photos_of(connection, walkdown_id)
        ]
        since = signed.signed_at if signed else seen_on
        releases = [one for one in releases_of(connection, unit_id) if one.released_at >= since]
        reasons = not_seen_of(connection, walkdown_id)
    return {
        "reasons": reasons,
        "version": int(version or 0),
        "signed": None
        if signed is None
        else Signed(signed.signed_by, _moment(signed.signed_at), signed.verdict, signed.told),
        "photos": tuple((words, smaller_photo(jpeg)) for words, jpeg in photos),
        "releases": tuple(
            ReleaseKept(one.released_by, _moment(one.released_at), one.reason) for one in releases
        ),
    }


def _moment(at: str) -> str:
    """Write a moment in UTC to the minute.

    Examples
    --------
    >>> _moment("2026-06-30T08:05:30+00:00")
    '2026-06-30 08:05 UTC'
    """
    return f"{datetime.fromisoformat(at):%Y-%m-%d %H:%M} UTC"
