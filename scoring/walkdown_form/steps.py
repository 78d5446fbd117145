"""One step of a walkdown for each check that a unit's mounting has, in walking order."""

from dataclasses import replace
from math import isfinite
from typing import Any

import numpy as np
import pandas as pd

from scoring.contract import CHECK_BY_NAME, UNITS, Check, Kind
from scoring.contract.details import DETAILS, Detail
from scoring.contract.not_seen import reasons_offered
from scoring.contract.quantities import INCH, METRIC
from scoring.drawing.walk_stations import STATIONS, station_of
from scoring.records import units_with
from scoring.rules.rulebook import RULEBOOK
from scoring.walkdown_form.answers_offered import values_offered
from scoring.walkdown_form.check_picture import picture_id
from scoring.walkdown_form.entries import entries_of, entry_in, range_words
from scoring.walkdown_form.judged_answers import Judged, judge
from scoring.walkdown_form.ranges import Ranges, good_ranges, plausible_ranges
from scoring.walkdown_form.tightening_help import ASKED_WITH
from scoring.walkdown_form.where_limits_come_from import origins_of_limits

KIND_WORDS = {Kind.CHOICE: "choice", Kind.NUMBER: "number", Kind.COUNT: "count"}

Step = dict[str, Any]

BESIDE_AN_EDGE = 1e-6
"""How far beside an edge a measured value is tried, as a share of it. [-]"""

WALKING_ORDER = tuple(check for station in STATIONS for check in station.checks)
"""All checks, as one walks round the unit."""


def steps_of_units(units: pd.DataFrame, limits: pd.DataFrame) -> list[list[Step]]:
    """Return the steps of each unit.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``, from row 0.
    limits : DataFrame, shape (n_units, n_limits)
        Their limits.

    Returns
    -------
    list of list of dict
        One list for each unit, in walking order. Of each step:

        - ``check``, ``label``, ``station``, ``station_words``, ``seen``, ``how_to_look``,
          ``good``, ``picture``, ``tightening``: what is looked at, where, when and how;
        - ``kind``: ``choice``, ``number`` or ``count``;
        - ``options``: answers to tap, each with what the rules say of it;
        - ``asked_on``: the kinds of visit on which it is asked; empty: on all;
        - ``reasons``: why it may not be seen: by the words kept for it;
        - ``details``: what is asked beside a finding: ``name``, ``label``, ``several`` (whether
          more than one may be tapped), ``options``, and whether it ``says`` that there is one;
        - ``entries``: headings and units that a number may be written in;
        - ``allowed``, ``plausible``, ``usual``: what is refused, questioned, and worse than good
          beyond; in the contract's unit, None where nothing is known;
        - ``beyond``: what the rules say of a value of nothing (``at_zero``), ``below`` and
          ``above`` what is good; ``{value}`` and ``{beyond}`` are left to be filled in;
        - ``farther``: what they say, and from where on, ``below`` or ``above`` a value that lies
          beyond that; of these the first that holds counts;
        - ``nominal``: the size beside which a value is looked at.
    """
    steps: list[list[Step]] = [[] for _ in range(len(units))]
    for name in WALKING_ORDER:
        check = CHECK_BY_NAME[name]
        here = np.flatnonzero(units_with(check, units))
        if len(here) == 0:
            continue
        some, their = (t.iloc[here].reset_index(drop=True) for t in (units, limits))
        for place, step in zip(here.tolist(), _steps_of_check(check, some, their), strict=True):
            steps[place].append(step)
    return steps


def _steps_of_check(check: Check, units: pd.DataFrame, limits: pd.DataFrame) -> list[Step]:
    offered = _offered(check, units, limits)
    is_choice = check.kind is Kind.CHOICE
    measured = [Step()] * len(units) if is_choice else _measured(check, units, limits)
    station = station_of(check.name)
    details = [_detail(detail) for detail in DETAILS if check.name in detail.of]
    return [
        {
            "check": check.name,
            "label": check.label,
            "station": station.letter,
            "station_words": station.words,
            "seen": check.seen.value,
            "how_to_look": check.how_to_look,
            "good": check.good,
            "kind": KIND_WORDS[check.kind],
            "picture": picture_id(check.name, mounting),
            "tightening": check.name in ASKED_WITH,
            "options": options,
            "asked_on": list(check.asked_on),
            "reasons": list(reasons_offered(check.seen)),
            "details": details,
            "entries": [],
            "allowed": None,
            "plausible": None,
            "usual": None,
            "beyond": {},
            "farther": [],
            "nominal": "",
            **numbers,
        }
        for mounting, options, numbers in zip(units["mounting"], offered, measured, strict=True)
    ]


def _offered(check: Check, units: pd.DataFrame, limits: pd.DataFrame) -> list[list[Step]]:
    """Return the answers offered at each unit, each with what the rules say of it."""
    mountings = units["mounting"].astype(object)
    offered: list[list[Step]] = [[] for _ in range(len(units))]
    for mounting in mountings.unique():
        here = np.flatnonzero((mountings == mounting).to_numpy())
        some, their = (t.iloc[here].reset_index(drop=True) for t in (units, limits))
        for word in values_offered(check, str(mounting)):
            code = check.allowed.index(word) if check.allowed else int(word)
            judged = judge(check.name, np.full(len(here), float(code)), some, their)
            for place, said in zip(here.tolist(), judged, strict=True):
                offered[place].append(
                    {"value": word, "words": check.words_of(word), **_as_dict(said)}
                )
    return offered


def _detail(detail: Detail) -> Step:
    return {
        "name": detail.name,
        "label": detail.label,
        "several": detail.kind is Kind.SEVERAL,
        "options": [{"value": word, "words": words} for word, words in detail.options.items()],
        "says": detail.says,
    }


def _as_dict(said: Judged) -> Step:
    return {"good": said.good, "severity": said.severity, "what": said.what, "do": said.do}


def _measured(check: Check, units: pd.DataFrame, limits: pd.DataFrame) -> list[Step]:
    """Return how a measured check is written at each unit, and within what."""
    good = good_ranges(check, limits)
    plausible = plausible_ranges(check, units, good)
    beyond, farther = (said(check, units, limits, good) for said in (_beyond, _farther))
    origins = origins_of_limits(check, units)
    nominal = _nominal(check, units)
    allowed = _allowed(check, units)
    entries = [vars(entry) for entry in entries_of(check)]
    return [
        {
            "entries": entries,
            "allowed": allowed[place],
            "plausible": _range(check, plausible, place, ""),
            "usual": _range(check, good, place, origins[place]),
            "beyond": beyond[place],
            "farther": farther[place],
            "nominal": nominal[place],
        }
        for place in range(len(units))
    ]


def _allowed(check: Check, units: pd.DataFrame) -> list[Step]:
    """Return what is not refused at each unit: a count never exceeds what the unit has."""
    shared = {
        "minimum": check.minimum,
        "above": check.above,
        "whole": check.kind is Kind.COUNT,
        "part_of": check.part_of,
    }
    if not check.at_most:
        here = [check] * len(units)
    else:
        most = units[check.at_most]
        limited = {number: replace(check, maximum=number) for number in most.dropna().unique()}
        here = [limited.get(number, check) for number in most.tolist()]
    return [{**shared, "maximum": one.maximum, "words": one.allowed_words} for one in here]


def _range(check: Check, ranges: Ranges, place: int, origin: str) -> Step | None:
    low, high = float(ranges.low[place]), float(ranges.high[place])
    words = {m: range_words(low, high, entry_in(check, m)) for m in (METRIC, INCH)}
    if not words[METRIC]:
        return None
    return {
        "low": low if isfinite(low) else None,
        "high": high if isfinite(high) else None,
        "words": words[METRIC],
        "words_inch": words[INCH],
        "origin": origin,
    }


def _nominal(check: Check, units: pd.DataFrame) -> list[str]:
    if not check.beside:
        return [""] * len(units)
    column = UNITS[check.beside]
    return [
        "" if np.isnan(value) else f"{column.meaning}: {value:.5g} {column.unit}".strip()
        for value in units[column.name].tolist()
    ]


def _beyond(
    check: Check, units: pd.DataFrame, limits: pd.DataFrame, good: Ranges
) -> list[dict[str, Step]]:
    """Return what the rules say of a value of nothing, and below and above what is good."""
    nothing = np.zeros(len(units))
    beside = 1.0 if check.kind is Kind.COUNT else BESIDE_AN_EDGE * (1 + good.high)
    sides = {
        "at_zero": (nothing, (check.minimum == 0) & (good.low > 0)),
        "below": (good.low * (1 - BESIDE_AN_EDGE), good.low > 0),
        "above": (good.high + beside, np.isfinite(good.high)),
    }
    found: list[dict[str, Step]] = [{} for _ in range(len(units))]
    for side, (values, there) in sides.items():
        tried = np.where(there, values, nothing)
        judged = judge(check.name, tried, units, limits)
        for place in np.flatnonzero(there).tolist():
            found[place][side] = _as_dict(judged[place])
    return found


def _farther(
    check: Check, units: pd.DataFrame, limits: pd.DataFrame, good: Ranges
) -> list[list[Step]]:
    """Return what the rules say of a value that lies far beyond what is good, and from where on."""
    found: list[list[Step]] = [[] for _ in range(len(units))]
    for rule in RULEBOOK:
        if rule.check != check.name or rule.edge is None:
            continue
        edge = rule.edge(units, limits)
        beside = 0.5 if check.kind is Kind.COUNT else BESIDE_AN_EDGE * edge
        for side, there, step in (("below", edge < good.low, -1), ("above", edge > good.high, 1)):
            judged = judge(check.name, np.where(there, edge + step * beside, 0.0), units, limits)
            for place in np.flatnonzero(there).tolist():
                found[place].append({side: float(edge[place]), **_as_dict(judged[place])})
    return found
