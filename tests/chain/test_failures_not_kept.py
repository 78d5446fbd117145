"""Where failures are not kept the ranking is the handbook's to the last digit, and says so."""

from dataclasses import fields, replace
from functools import cache

import numpy as np
import pandas as pd
import pytest
from generated_fleets import (
    AS_OF,
    NOT_RECORDED,
    failures_not_kept,
    generated_book,
    no_failure_yet,
)

from scoring.assessment import Assessment, FleetAssessor
from scoring.contract.events import MODES

FLEETS = [(40, 1), (200, 5)]
BOTH_WAYS = pytest.mark.parametrize("fleet", FLEETS, ids=str)


@cache
def not_kept(fleet) -> FleetAssessor:
    return FleetAssessor(failures_not_kept(generated_book(*fleet)).fleet())


@cache
def both(fleet, horizon_days=365) -> tuple[Assessment, Assessment]:
    """Assess by the handbook alone, and by what the fleet's own failures say."""
    assessor = not_kept(fleet)
    learning = assessor.learn(AS_OF)
    alone, learned = (assessor.assess(AS_OF, horizon_days, what) for what in (None, learning))
    return alone, learned


@BOTH_WAYS
@pytest.mark.parametrize("horizon_days", [30, 365])
def test_the_ranking_is_the_handbook_s_to_the_last_digit(fleet, horizon_days):
    alone, learned = both(fleet, horizon_days)
    pd.testing.assert_frame_equal(alone.ranking, learned.ranking, check_exact=True)
    assert (learned.ranking["basis"] == "handbook").all()


@BOTH_WAYS
@pytest.mark.parametrize("mode", MODES)
def test_so_is_all_that_the_risk_is_made_of(fleet, mode):
    alone, learned = (assessment.risk.modes[mode] for assessment in both(fleet))
    for part in fields(alone):
        one, other = (getattr(risk, part.name) for risk in (alone, learned))
        if isinstance(one, np.ndarray):
            np.testing.assert_array_equal(one, other, part.name)
    for part in fields(alone.multipliers):
        frames = (getattr(risk.multipliers, part.name) for risk in (alone, learned))
        pd.testing.assert_frame_equal(*frames, check_exact=True)


@BOTH_WAYS
def test_it_is_said_that_failures_are_not_kept(fleet):
    _, learned = both(fleet)
    assert learned.learning.used == {}
    assert learned.learning.words == "handbook"
    for mode in MODES:
        basis = learned.learning.basis[mode]
        assert not basis.used
        assert basis.learned is None
        assert "not kept" in basis.why
        assert learned.risk.modes[mode].correction is None


def test_a_seal_seen_dripping_teaches_nothing_either():
    """It is a failure; but nobody knows how many others were not written down."""
    book = failures_not_kept(generated_book(*FLEETS[1]))
    drip = [{**row, "seal_weep": "dripping"} for row in book.walkdowns[:3]]
    assert min(row["inspected_on"] for row in drip) < str(AS_OF.date())
    book = replace(book, walkdowns=[*drip, *book.walkdowns[3:]])
    assert len(FleetAssessor(book.fleet()).failure_rows(AS_OF)) == 0


@pytest.mark.parametrize("mode", MODES)
def test_kept_and_none_yet_is_knowledge_and_lowers_every_chance(mode):
    book = no_failure_yet(generated_book(*FLEETS[1]))
    assessor = FleetAssessor(book.fleet())
    learning = assessor.learn(AS_OF)
    assert set(learning.used) == set(MODES)
    alone, learned = (assessor.assess(AS_OF, learning=what) for what in (None, learning))
    ours, handbook = (a.risk.modes[mode].probability for a in (learned, alone))
    assert (ours < handbook).all()
    assert (learned.ranking["basis"] == "handbook and fleet").all()


def test_one_unit_s_word_that_failures_are_kept_is_enough():
    book = failures_not_kept(generated_book(*FLEETS[0]))
    first = {**book.units[0], "failures_recorded_from": "2022-01-01"}
    rows = FleetAssessor(replace(book, units=[first, *book.units[1:]]).fleet()).failure_rows(AS_OF)
    assert len(np.unique(rows.place)) > 20


@pytest.mark.parametrize("day", ["2021-07-02", "2023-01-31"])
def test_before_the_first_failure_was_written_down_nothing_was_known_of_failures(day):
    """No unit says since when: as of a day before the first event they are not kept yet."""
    book = generated_book(*FLEETS[0])
    silent = replace(
        book,
        units=[{**unit, **NOT_RECORDED} for unit in book.units],
        events=[row for row in book.events if row["occurred_on"] > "2023-01-31"],
        rework=[{**row, "event_id": ""} for row in book.rework],
    )
    assessor, when = FleetAssessor(silent.fleet()), pd.Timestamp(day)
    assert assessor.learn(when).used == {}
    alone, learned = (assessor.assess(when, learning=w) for w in (None, assessor.learn(when)))
    pd.testing.assert_frame_equal(alone.ranking, learned.ranking, check_exact=True)
