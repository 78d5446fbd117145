"""Whether a change is told from chance: intervals by hand, and how often they hold the truth."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from kept_plants import GRAIN_PORT
from scipy.stats import binom

from scoring.assessment import FleetAssessor
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.trends import then_and_now
from scoring.trends.change_with_interval import (
    CANNOT_BE_TOLD,
    WORSE,
    change_of_shares,
    paired_change,
    share_with_interval,
)
from scoring.trends.funnel import WITHIN, funnel

AS_OF = pd.Timestamp("2026-06-30")
FLEETS = 400
NEAR = 0.035
"""2.3 standard deviations of a share of 0.9 of 400 fleets."""


@pytest.fixture(scope="module")
def assessor():
    return FleetAssessor(check_fleet(read_fleet(GRAIN_PORT).tables, AS_OF).fleet)


@pytest.fixture(scope="module")
def losses(assessor):
    return then_and_now(assessor, assessor.assess(AS_OF))


def test_a_change_by_hand():
    """Differences 1, 0, 2 with mean 1: squares of deviations sum to 2; of 3 units."""
    change = paired_change(np.array([2.0, 3.0, 7.0]), np.array([1.0, 3.0, 5.0]))
    half = 1.6448536269514722 * np.sqrt(3 / 2 * 2 / 9)
    assert (change.now, change.before) == (4.0, 3.0)
    assert change.low == pytest.approx(1 - half)
    assert change.high == pytest.approx(1 + half)


def test_units_that_came_and_went_count_on_their_own_day_alone():
    """Means 3 and 2; parts of the change -1/2, 1/2 now and 1/2, -1/2 before."""
    change = paired_change(np.array([2.0, 4.0, np.nan, np.nan]), np.array([np.nan, np.nan, 1, 3]))
    half = 1.6448536269514722 * np.sqrt(4 / 3 * 1)
    assert change.by == 1
    assert change.high - change.by == pytest.approx(half)
    assert np.isnan(paired_change(np.array([1.0]), np.array([np.nan])).low)
    assert paired_change(np.array([1.0]), np.array([3.0])).less_is == CANNOT_BE_TOLD


def test_nine_in_ten_unchanged_fleets_hold_no_change():
    """Losses of units as unlike as real ones, a fifth of the units new or gone, none changed."""
    held = 0
    for seed in range(FLEETS):
        draw = np.random.default_rng(9100 + seed)
        unit = draw.normal(0, 1, 400)
        now, before = (np.exp(unit + draw.normal(0, 0.5, 400)) for _ in range(2))
        now[:40], before[40:80] = np.nan, np.nan
        held += paired_change(now, before).less_is == CANNOT_BE_TOLD
    assert abs(held / FLEETS - 0.9) < NEAR


def test_nine_in_ten_hold_no_change_where_the_days_of_units_are_changed_at_random(losses):
    now, before = (losses[f"loss_{day}"].to_numpy(float) for day in ("now", "before"))
    draw, held = np.random.default_rng(9600), 0
    for _ in range(FLEETS):
        other = draw.random(len(now)) < 0.5
        one = paired_change(np.where(other, now, before), np.where(other, before, now))
        held += one.less_is == CANNOT_BE_TOLD
    assert abs(held / FLEETS - 0.9) < NEAR


def test_a_fleet_whose_faults_were_made_worse_is_worse(assessor, losses):
    """Every walkdown of the last year finds metal contact and a plugged breather."""
    walkdowns = assessor.fleet.walkdowns.copy()
    late = walkdowns["inspected_on"] > AS_OF - pd.DateOffset(years=1)
    walkdowns.loc[late, "metal_contact"] = "yes"
    walkdowns.loc[late, "breather"] = "plugged"
    spoiled = FleetAssessor(replace(assessor.fleet, walkdowns=walkdowns))
    table = then_and_now(spoiled, spoiled.assess(AS_OF))
    change = paired_change(table["loss_now"].to_numpy(), table["loss_before"].to_numpy())
    assert change.less_is == WORSE
    assert (
        change.by
        > paired_change(losses["loss_now"].to_numpy(), losses["loss_before"].to_numpy()).high
    )


def test_groups_side_by_side_have_wider_intervals():
    now, before = np.array([2.0, 3.0, 7.0]), np.array([1.0, 3.0, 5.0])
    alone, beside = paired_change(now, before), paired_change(now, before, among=6)
    deviations = 2.3818  # of the normal law that has 0.9 ** (1 / 6) = 0.9826 between its ends
    assert (beside.high - 1) / (alone.high - 1) == pytest.approx(deviations / 1.64485, rel=2e-3)


def test_intervals_of_shares_hold_the_truth_nine_times_in_ten_on_average():
    """Exact for each true share, by all that may be counted; counts are whole, so it jumps."""
    counts = np.arange(61.0)
    _, low, high = share_with_interval(counts, np.full(61, 60.0))
    true = np.linspace(0.3, 0.9, 61)[:, np.newaxis]
    holds = ((low <= true) & (high >= true)) * binom.pmf(counts, 60, true)
    assert abs(holds.sum(axis=1).mean() - 0.9) < 0.01
    assert holds.sum(axis=1).min() > 0.85


def test_changes_of_shares_that_did_not_change_cannot_be_told_nine_times_in_ten():
    counts = [(a, b) for a in range(31) for b in range(41)]
    unsaid = [change_of_shares((a, 30), (b, 40)).more_is == CANNOT_BE_TOLD for a, b in counts]
    now, before = np.array(counts).T
    held = [
        float((unsaid * binom.pmf(now, 30, p) * binom.pmf(before, 40, p)).sum())
        for p in np.linspace(0.4, 0.8, 21)
    ]
    assert abs(np.mean(held) - 0.9) < 0.02
    assert np.isnan(change_of_shares((3, 4), (0, 0)).low)


def test_a_funnel_of_groups_that_are_alike_names_nobody_in_nine_of_ten_fleets():
    draw = np.random.default_rng(9800)
    of = pd.Series([5, 12, 20, 30, 40, 60, 90, 150])
    nobody = 0
    for _ in range(FLEETS):
        table = funnel(pd.Series(draw.binomial(of, 0.65)), of)
        nobody += (table["stands"] == WITHIN).all()
    assert nobody / FLEETS > 0.9 - NEAR
    assert funnel(pd.Series([0]), pd.Series([0])).empty
