"""Who was at risk as of a day, and what became of them, against lives told day by day."""

from datetime import date, timedelta

import numpy as np
import pandas as pd
import pytest
from generated_fleets import AS_OF, generated_assessor, generated_book
from naive_life import life_of

from scoring.contract.events import MODES
from scoring.handbook.unit_evidence import UnitEvidence
from scoring.learning.covariates import PLAIN_CHECKS
from scoring.learning.learned import learn
from scoring.risk.fleet_risk import fleet_risk
from scoring.validation.predictions import followed_from

SEEDS = (2, 8)
AT_RISK = dict(zip(MODES, ("bearing_at_risk", "seal_at_risk", "slip_at_risk"), strict=True))
FAILED = dict(zip(MODES, ("bearing_failed", "seal_failed", "slipped"), strict=True))
SIZE = 60


def followed_plainly(lives, mode, since: date, until: date):
    """Go through each unit's days after one day, up to its first failure."""
    found = {}
    for place, life in enumerate(lives):
        first = life.get(since + timedelta(days=1))
        if first is None or not getattr(first, AT_RISK[mode]):
            continue
        for n in range(1, (until - since).days + 1):
            day = life.get(since + timedelta(days=n))
            if day is None:
                break
            failed = getattr(day, FAILED[mode])
            found[place] = (n, failed)
            if failed:
                break
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_units_are_followed_to_the_first_failure_their_leaving_or_the_next_day(seed):
    book, rows = generated_book(SIZE, seed), generated_assessor(SIZE, seed).failure_rows(AS_OF)
    lives = [life_of(book, unit, AS_OF.date()) for unit in book.units]
    failures = 0
    for day in range(len(rows.days) - 1):
        since, until = rows.days[day : day + 2].tolist()
        for mode in MODES:
            followed = followed_from(rows, mode, day)
            days = np.round(followed.years * 365.25, 6)
            outcome = zip(days.tolist(), followed.failed.tolist(), strict=True)
            plain = followed_plainly(lives, mode, since, until)
            assert dict(zip(followed.place.tolist(), outcome, strict=True)) == plain
            assert followed.horizon_years * 365.25 == pytest.approx((until - since).days)
            failures += sum(failed for _, failed in plain.values())
    assert failures > 5


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_known_of_them_is_what_was_known_that_day(seed):
    assessor = generated_assessor(SIZE, seed)
    rows = assessor.failure_rows(AS_OF)
    for day in range(len(rows.days) - 1):
        known = assessor.timeline.known(pd.Timestamp(rows.days[day]))
        followed = followed_from(rows, "low_speed_bearing", day)
        here = np.searchsorted(known.place, followed.place)
        exceedance = known.exceedance[list(PLAIN_CHECKS)].to_numpy(dtype=float)[here]
        bad = np.where(np.isnan(exceedance), -1, exceedance > 0)
        np.testing.assert_array_equal(followed.state.bad, bad)
        age = known.history["bearing_age_days"].to_numpy(dtype=float)[here]
        np.testing.assert_allclose(followed.age_years * 365.25, age)
        sites = np.array(followed.state.sites)[followed.state.site]
        assert sites.tolist() == known.units["site"].to_numpy()[here].tolist()


def looked_at_lately(assessor, day):
    """Units with a look in the last 30 days, whose symptoms do not explain failures yet."""
    looks = assessor.fleet.walkdowns
    lately = looks["inspected_on"].between(day - pd.Timedelta(days=30), day + pd.Timedelta(days=1))
    return np.flatnonzero(
        assessor.fleet.units["unit_id"].isin(looks.loc[lately, "unit_id"]).to_numpy()
    )


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("by", ["handbook", "handbook and fleet"])
def test_it_is_predicted_as_the_ranking_of_that_day_would(seed, by):
    """But for symptoms of the last month, and how usual faults are, which is as known today."""
    assessor = generated_assessor(SIZE, seed)
    rows = assessor.failure_rows(AS_OF)
    for day in range(len(rows.days) - 1):
        date = pd.Timestamp(rows.days[day])
        known = assessor.timeline.known(date)
        limits = assessor.limits.at(known.place)
        evidence = UnitEvidence.of(known, limits, assessor.prevalence(AS_OF))
        learned = learn(rows, day) if by == "handbook and fleet" else None
        own = {
            mode: tally.as_of(rows.days[day]).where(known.place)
            for mode, tally in rows.tallies(len(assessor.fleet.units)).items()
        }
        used = {} if learned is None else {m: (one, own[m]) for m, one in learned.modes.items()}
        risk = fleet_risk(evidence, 365, used)
        for mode in MODES:
            followed = followed_from(rows, mode, day)
            kept = ~np.isin(followed.place, looked_at_lately(assessor, date))
            within, _ = followed.predict(None if learned is None else learned.modes[mode].ratio)
            here = np.searchsorted(known.place, followed.place[kept])
            assert kept.mean() > 0.7
            np.testing.assert_allclose(within[kept], risk.modes[mode].expected[here], rtol=1e-5)
