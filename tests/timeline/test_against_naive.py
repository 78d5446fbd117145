"""The columnar timeline against a record-by-record one, over random small fleets."""

from dataclasses import replace
from datetime import date

import numpy as np
import pandas as pd
from fleets import Book, exceedance_by_look, plain, timeline_of
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from naive_timeline import NaiveUnit, day_of, days_in_service, in_service, known_of
from random_books import books

from scoring.contract import CHECKS
from scoring.contract.details import DETAILS
from scoring.records import DAY_COLUMN, Fleet
from scoring.timeline import Known, Status

FEW = settings(
    deadline=None,
    derandomize=True,
    max_examples=12,
    phases=(Phase.generate, Phase.shrink),
    suppress_health_check=[HealthCheck.too_slow],
)


@FEW
@given(books())
def test_columnar_and_naive_agree(drawn: tuple[Book, date]) -> None:
    book, as_of = drawn
    fleet = book.fleet()
    exceedance = exceedance_by_look(fleet)
    timeline = timeline_of(fleet)
    known = timeline.known(pd.Timestamp(as_of))

    naive = {unit["unit_id"]: known_of(book, unit, as_of, exceedance) for unit in book.units}
    here = [unit for unit in book.units if in_service(unit, as_of)]
    assert known.units["unit_id"].tolist() == [unit["unit_id"] for unit in here]
    assert known.place.tolist() == [book.units.index(unit) for unit in here]
    for place, unit in enumerate(here):
        one = naive[unit["unit_id"]]
        assert _checks(known, place) == _naive_checks(one)
        started = unit["started_on"] or unit["installed_on"]
        told = [name for name in known.history if name not in [one.name for one in DETAILS]]
        assert {c: plain(known.history[c].iloc[place]) for c in told} == {
            "crew": one.crew or None,
            "hung_on": one.hung_on.isoformat(),
            "bearing_age_days": days_in_service(book, unit, as_of, exceedance, "bearing"),
            "seal_age_days": days_in_service(book, unit, as_of, exceedance, "seal"),
            "joint_age_days": max((as_of - max(day_of(started), one.hung_on)).days, 0),
            "leak_since": one.leak_since.isoformat() if one.leak_since else None,
            "failures_recorded_from": unit["failures_recorded_from"] or started,
            "engagement_mm_at_home": one.at_home("engagement_mm"),
            "shaft_end_at_home": one.at_home("shaft_end"),
        }
    assert sorted(map(str, _ignored(known))) == sorted(
        str((unit["unit_id"], walkdown, check, _typed(value), _typed(one.looks[check].value)))
        for unit in here
        for one in [naive[unit["unit_id"]]]
        for walkdown, check, value in one.ignored
    )
    leaks = timeline.unrecorded_leaks(pd.Timestamp(as_of))
    assert sorted(zip(leaks["unit"], leaks["day"], leaks["stands"], strict=True)) == sorted(
        (place, pd.Timestamp(day), stands)
        for place, one in enumerate(naive.values())
        for day, stands in [
            *((day, False) for day in one.mended_leaks),
            *([(one.leak_since, True)] if one.leak_since else []),
        ]
    )


def _typed(text: str) -> object:
    return float(text) if text.replace(".", "").isdigit() else text


def _ignored(known: Known) -> list[tuple[object, ...]]:
    return list(known.better_but_ignored.itertuples(index=False, name=None))


def _checks(known: Known, place: int) -> dict[str, tuple[object, ...]]:
    """Return value, exceedance, status and day of every check of one unit."""
    frames = (known.found, known.exceedance, known.status, known.seen_on)
    return {c.name: tuple(plain(f[c.name].iloc[place]) for f in frames) for c in CHECKS}


def _naive_checks(one: NaiveUnit) -> dict[str, tuple[object, ...]]:
    answer: dict[str, tuple[object, ...]] = {}
    for name in (check.name for check in CHECKS):
        if name in one.looks:
            look = one.looks[name]
            value = _typed(look.value)
            answer[name] = (value, look.exceedance, Status.SEEN, look.day.isoformat())
        elif name in one.cured_on:
            cured_on = one.cured_on[name].isoformat()
            answer[name] = (None, None, Status.REPORTED_CURED, cured_on)
        else:
            answer[name] = (None, None, Status.NOT_SEEN, None)
    return answer


def _everything(fleet: Fleet, as_of: date) -> dict[str, object]:
    """Return all that is said as of a day, by unit, free of the order of rows."""
    timeline = timeline_of(fleet)
    known = timeline.known(pd.Timestamp(as_of))
    leaks = timeline.unrecorded_leaks(pd.Timestamp(as_of))
    unit_ids = fleet.units["unit_id"].to_numpy(dtype=object)
    return {
        "units": {
            unit_id: (
                _checks(known, n),
                {c: plain(known.history[c].iloc[n]) for c in known.history},
            )
            for n, unit_id in enumerate(known.units["unit_id"])
        },
        "ignored": sorted(map(str, _ignored(known))),
        "leaks": sorted(zip(unit_ids[leaks["unit"]], leaks["day"], leaks["stands"], strict=True)),
    }


@FEW
@given(books(), st.integers(0, 2**32 - 1))
def test_order_of_rows_means_nothing(drawn: tuple[Book, date], seed: int) -> None:
    book, as_of = drawn
    fleet = book.fleet()
    chance = np.random.default_rng(seed)
    shuffled = Fleet(
        **{
            name: frame.iloc[chance.permutation(len(frame))].reset_index(drop=True)
            for name, frame in vars(fleet).items()
        }
    )
    assert _everything(shuffled, as_of) == _everything(fleet, as_of)


@FEW
@given(books())
def test_what_is_written_after_the_day_changes_nothing(drawn: tuple[Book, date]) -> None:
    book, as_of = drawn
    fleet = book.fleet()
    day = pd.Timestamp(as_of)
    tables = {
        name: frame[
            (frame[DAY_COLUMN[name]].dt.normalize() <= day)
            & ~(frame["recorded_at"].dt.normalize() > day)
        ].reset_index(drop=True)
        for name, frame in vars(fleet).items()
        if name in ("walkdowns", "events", "rework")
    }
    named = tables["rework"]["event_id"]
    tables["rework"]["event_id"] = named.where(named.isin(tables["events"]["event_id"]))
    units = fleet.units[fleet.units["installed_on"] <= day].reset_index(drop=True)
    if len(units):
        then = replace(fleet, units=units, **tables)
        assert _everything(then, as_of) == _everything(fleet, as_of)
