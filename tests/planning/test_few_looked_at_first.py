"""However few places the first search looks at, the plan is the best of every plan there is."""

import numpy as np
import pytest
from drawn_work import best_by_looking_at_every_plan, draw_sets, draw_windows

from scoring.planning import knapsack
from scoring.planning.choose import choose


@pytest.mark.parametrize("core", [1, 2, 4])
@pytest.mark.parametrize("seed", range(30))
def test_a_second_search_makes_good_what_the_first_left_out(seed, core, monkeypatch):
    draw = np.random.default_rng(9000 + seed)
    sets = draw_sets(draw, n_units=int(draw.integers(3, 6)))
    shutdowns = draw_windows(draw, n_windows=int(draw.integers(1, 3)), hours=20)
    holds_first = bool(seed % 2)
    holds, avoided = best_by_looking_at_every_plan(sets, shutdowns, holds_first=holds_first)
    monkeypatch.setattr(knapsack, "FIRST_CORE", core)
    choice = choose(sets, shutdowns, holds_first=holds_first, gap=0.0)
    assert choice.avoided == pytest.approx(avoided)
    assert choice.bound >= avoided - 1e-6
    assert choice.gap < 1e-6
    if holds_first:
        assert choice.holds == choice.holds_bound == holds


@pytest.mark.parametrize("gap", [0.02, 0.2])
@pytest.mark.parametrize("seed", range(15))
def test_a_wider_gap_may_fall_short_by_it_and_says_no_less(seed, gap, monkeypatch):
    draw = np.random.default_rng(9100 + seed)
    sets = draw_sets(draw, n_units=5)
    shutdowns = draw_windows(draw, n_windows=1, hours=20)
    _, avoided = best_by_looking_at_every_plan(sets, shutdowns, holds_first=False)
    monkeypatch.setattr(knapsack, "FIRST_CORE", 2)
    choice = choose(sets, shutdowns, holds_first=False, gap=gap)
    assert choice.avoided >= (1 - gap) * avoided - 1e-6
    assert choice.bound >= avoided - 1e-6
    assert choice.gap <= gap + 1e-9
