"""The plan is the best there is, keeps to its windows, and gets no worse with more hours."""

import numpy as np
import pandas as pd
import pytest
from drawn_work import AS_OF, best_by_looking_at_every_plan, draw_sets, draw_windows

from scoring.planning.bundles import worth_weighing
from scoring.planning.choose import choose
from scoring.planning.knapsack import Knapsack, Patience
from scoring.planning.shutdowns import Shutdowns, one_shutdown


def done(sets, choice):
    taken = choice.window >= 0
    return int(sets["clears_hold"][taken].sum()), float(sets["loss_avoided"][taken].sum())


@pytest.mark.parametrize("seed", range(200))
def test_it_is_the_best_of_every_plan_there_is(seed):
    draw = np.random.default_rng(seed)
    sets = draw_sets(draw, n_units=int(draw.integers(2, 6)))
    shutdowns = draw_windows(
        draw, n_windows=int(draw.integers(1, 3)), hours=int(draw.integers(3, 25))
    )
    holds_first = bool(seed % 4)
    holds, avoided = best_by_looking_at_every_plan(sets, shutdowns, holds_first=holds_first)
    choice = choose(sets, shutdowns, holds_first=holds_first, gap=0.0)
    got_holds, got = done(sets, choice)
    assert got == pytest.approx(avoided)
    assert choice.avoided == pytest.approx(avoided)
    if holds_first:
        assert got_holds == holds == choice.holds == choice.holds_bound
    assert choice.gap < 1e-6


@pytest.mark.parametrize("seed", range(20))
def test_windows_sites_people_crane_and_parts_are_kept_to(seed):
    draw = np.random.default_rng(1000 + seed)
    sets, shutdowns = draw_sets(draw, n_units=120), draw_windows(draw, n_windows=6, hours=40)
    choice = choose(sets, shutdowns)
    chosen = sets[choice.window >= 0]
    window = shutdowns.table.iloc[choice.window[choice.window >= 0]].reset_index(drop=True)
    chosen = chosen.reset_index(drop=True)
    assert not chosen["unit"].duplicated().any()
    used = chosen.groupby(window["window"])["hours"].sum()
    assert (
        used <= shutdowns.table.set_index("window")["crew_hours"].reindex(used.index) + 1e-6
    ).all()
    assert (window["sites"].isna() | (window["sites"] == chosen["site"])).all()
    assert (window["people"].isna() | (chosen["people"] <= window["people"])).all()
    assert (~chosen["crane"] | (window["crane"].astype(object) != "no")).all()
    arrives = AS_OF + pd.to_timedelta(chosen["lead_days"], unit="D")
    assert (arrives <= window["starts_on"]).all()
    assert choice.gap < 0.01


@pytest.mark.parametrize("holds_first", [True, False])
def test_more_hours_never_avoid_less(holds_first):
    """Holds count first; then loss."""
    sets = draw_sets(np.random.default_rng(7), n_units=60)
    before = (-1, -1.0)
    for hours in np.arange(0, 300, 7.5):
        choice = choose(sets, one_shutdown(AS_OF, hours), holds_first=holds_first, gap=0.0)
        now = done(sets, choice)
        now = now if holds_first else (0, now[1])
        assert now[0] > before[0] or (now[0] == before[0] and now[1] >= before[1] - 1e-6)
        before = now


def test_holds_come_first_though_other_work_avoids_more():
    sets = pd.DataFrame(
        {
            "unit": [0, 1],
            "site": "pit",
            "hours": [8.0, 8.0],
            "people": 1,
            "crane": False,
            "lead_days": 0,
            "loss_avoided": [1.0, 9000.0],
            "clears_hold": [True, False],
        }
    )
    assert choose(sets, one_shutdown(AS_OF, 8)).window.tolist() == [0, -1]
    alone = choose(sets, one_shutdown(AS_OF, 8), holds_first=False)
    assert alone.window.tolist() == [-1, 0]


@pytest.mark.parametrize("seed", range(20))
def test_what_is_bettered_is_left_out_and_loses_nothing(seed):
    draw = np.random.default_rng(300 + seed)
    sets = draw_sets(draw, n_units=40, most_sets=6)
    kept = worth_weighing(sets)
    assert len(kept) < len(sets)
    for one in kept.to_dict("records"):
        same = sets[sets["unit"] == one["unit"]]
        better = (
            (same["hours"] <= one["hours"])
            & (same["people"] <= one["people"])
            & (same["crane"] <= one["crane"])
            & (same["lead_days"] <= one["lead_days"])
            & (same["loss_avoided"] >= one["loss_avoided"])
            & (same["clears_hold"] >= one["clears_hold"])
            & ((same["hours"] < one["hours"]) | (same["loss_avoided"] > one["loss_avoided"]))
        )
        assert not better.any()
    shutdowns = draw_windows(draw, n_windows=3, hours=60)
    every, few = (choose(some, shutdowns, gap=0.0) for some in (sets, kept))
    assert few.holds == every.holds
    assert few.avoided == pytest.approx(every.avoided, rel=1e-6)


def test_nothing_to_do_is_no_plan():
    sets = draw_sets(np.random.default_rng(1), n_units=5)
    nothing = choose(sets.iloc[:0], one_shutdown(AS_OF, 24))
    assert (nothing.avoided, nothing.gap, len(nothing.window)) == (0.0, 0.0, 0)
    too_short = choose(sets, one_shutdown(AS_OF, 0.25))
    assert (too_short.window == -1).all()


@pytest.mark.parametrize("seed", range(5))
def test_order_of_sets_and_windows_does_not_matter(seed):
    draw = np.random.default_rng(50 + seed)
    sets, shutdowns = draw_sets(draw, n_units=50), draw_windows(draw, n_windows=4)
    shuffled = sets.sample(frac=1, random_state=seed).reset_index(drop=True)
    other = Shutdowns(shutdowns.table.iloc[::-1].reset_index(drop=True), AS_OF)
    one, again = choose(sets, shutdowns, gap=0.0), choose(shuffled, other, gap=0.0)
    assert one.holds == again.holds
    assert one.avoided == pytest.approx(again.avoided, rel=1e-6)


def test_where_nothing_is_worth_anything_no_choice_can_pass_nothing():
    places = Knapsack(np.array([0, 1]), np.array([0, 0]), np.array([1.0, 1.0]), np.array([5.0]))
    filled = places.fill(np.zeros(2), Patience(0.0, 10))
    assert (filled.taken.tolist(), filled.bound) == ([False, False], 0.0)
    known = np.array([True, False])
    filled = places.fill(np.zeros(2), Patience(0.0, 10), known=known)
    assert (filled.taken.tolist(), filled.bound) == ([True, False], 0.0)
