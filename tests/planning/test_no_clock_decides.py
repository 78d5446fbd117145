"""A plan depends on records and settings alone: not on the clock, so not on a busy machine."""

import itertools
import sys
from importlib import import_module

import numpy as np
import pytest
import scipy.optimize
from drawn_work import draw_sets, draw_windows

from scoring.planning.choose import choose

CLOCKS = ("monotonic", "perf_counter", "process_time", "time")
A_DAY_S = 86_400.0


def work(seed=11, n_units=80, hours=60):
    draw = np.random.default_rng(seed)
    return draw_sets(draw, n_units), draw_windows(draw, n_windows=4, hours=hours)


@pytest.fixture
def wild_clock(monkeypatch):
    """Let a day pass between any two looks at a clock, for whoever reads it from now on."""
    ticks = itertools.count(step=A_DAY_S)
    for name in CLOCKS:
        monkeypatch.setattr(f"time.{name}", lambda: next(ticks))
    for name in [name for name in sys.modules if name.startswith("scoring.planning")]:
        monkeypatch.delitem(sys.modules, name)  # it may have got hold of the clock when imported


@pytest.mark.parametrize("holds_first", [True, False])
def test_a_clock_that_runs_wild_changes_no_plan(holds_first, request):
    sets, shutdowns = work()
    calm = choose(sets, shutdowns, holds_first=holds_first)
    request.getfixturevalue("wild_clock")
    anew = import_module("scoring.planning.choose")
    wild = anew.choose(sets, shutdowns, holds_first=holds_first)
    assert wild.window.tolist() == calm.window.tolist()
    assert (wild.bound, wild.holds_bound, wild.words) == (
        calm.bound,
        calm.holds_bound,
        calm.words,
    )


def test_no_search_is_given_seconds(monkeypatch):
    """The solver has a clock of its own, which no test can set."""
    asked, search = [], scipy.optimize.milp

    def watched(*args, options, **kwargs):
        asked.append(dict(options))  # for it takes them out
        return search(*args, options=options, **kwargs)

    monkeypatch.setattr(scipy.optimize, "milp", watched)
    choose(*work())
    assert asked
    assert {name for options in asked for name in options} == {"mip_rel_gap", "node_limit"}


@pytest.mark.parametrize(("seed", "holds_first"), [(5, True), (7, False)])
def test_a_search_that_ends_early_says_how_far_from_the_best_it_may_be(seed, holds_first):
    sets, shutdowns = work(seed, n_units=60, hours=40)
    best = choose(sets, shutdowns, holds_first=holds_first, gap=0.0)
    early = choose(sets, shutdowns, holds_first=holds_first, gap=0.0, nodes=1)
    assert best.gap < 1e-6 < early.gap
    assert early.holds == best.holds
    assert early.avoided <= best.avoided + 1e-6 <= early.bound + 2e-6
    assert f"{early.gap:.3%} more" in early.words
