"""The front: both ends, plans between, none bettered by another, and units forced in or out."""

from itertools import product

import numpy as np
import pandas as pd
import pytest
from drawn_work import AS_OF, allowed, draw_sets, draw_windows
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.errors import FixableError
from scoring.planning.choose import choose
from scoring.planning.front import front_of, table_of
from scoring.planning.shutdowns import one_shutdown
from scoring.planning.wishes import LEFT_OUT, NOT_ALL_FIT, NOTHING_TO_DO, Wishes


def by_looking_at_every_plan(sets, shutdowns, wishes):
    """Return what every plan that fits lifts and avoids, of those with most units that must be."""
    windows = shutdowns.table.to_dict("records")
    options = []
    for _, rows in sets.groupby("unit"):
        own = [(None, None)]
        for one in rows.to_dict("records"):
            if one["unit_id"] not in wishes.must_out:
                own += [(one, n) for n, window in enumerate(windows) if allowed(one, window)]
        options.append(own)
    plans, most_musts = [], 0
    for plan in product(*options):
        used = np.zeros(len(windows))
        for one, n in plan:
            if one is not None:
                used[n] += one["hours"]
        if any(u > w["crew_hours"] for u, w in zip(used, windows, strict=True)):
            continue
        done = [one for one, _ in plan if one is not None]
        musts = sum(one["unit_id"] in wishes.must_in for one in done)
        lifted = sum(one["clears_hold"] for one in done)
        plans.append((musts, int(lifted), sum(one["loss_avoided"] for one in done)))
        most_musts = max(most_musts, musts)
    return {(lifted, avoided) for musts, lifted, avoided in plans if musts == most_musts}


def unbettered(plans):
    kept, most = [], -1.0
    for lifted, avoided in sorted(plans, key=lambda one: (-one[0], -one[1])):
        if avoided > most + 1e-9:
            kept.append((lifted, avoided))
            most = avoided
    return kept


def some_wishes(draw, sets):
    ids = np.unique(sets["unit_id"].astype(str))
    chosen = draw.permutation(ids)[: int(draw.integers(0, 4))]
    return Wishes(frozenset(chosen[:2].tolist()), frozenset(chosen[2:].tolist()))


@pytest.mark.parametrize("seed", range(120))
def test_it_is_the_front_of_every_plan_there_is(seed):
    """Where loss is avoided by few, work that lifts a hold and avoids nothing must not be lost."""
    draw = np.random.default_rng(9000 + seed)
    sets = draw_sets(draw, n_units=int(draw.integers(2, 6)))
    if seed % 3 == 0:
        nothing = (draw.random(len(sets)) < 0.5) & sets["clears_hold"]
        sets.loc[nothing, "loss_avoided"] = 0.0
    shutdowns = draw_windows(
        draw, n_windows=int(draw.integers(1, 3)), hours=int(draw.integers(3, 25))
    )
    wishes = some_wishes(draw, sets) if seed % 2 else Wishes()
    every = unbettered(by_looking_at_every_plan(sets, shutdowns, wishes))
    front = front_of(sets, shutdowns, wishes, between=6, gap=0.0)
    got = [(one.holds, one.avoided) for one in front.choices]
    assert [holds for holds, _ in got] == [holds for holds, _ in every]
    np.testing.assert_allclose([a for _, a in got], [a for _, a in every], rtol=1e-6, atol=1e-6)


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10_000), hours=st.floats(1, 200), windows=st.integers(1, 3))
def test_more_holds_are_paid_with_loss_and_no_plan_betters_another(seed, hours, windows):
    draw = np.random.default_rng(seed)
    sets = draw_sets(draw, n_units=40)
    shutdowns = (
        one_shutdown(AS_OF, hours) if windows == 1 else draw_windows(draw, windows, int(hours) + 2)
    )
    wishes = some_wishes(draw, sets)
    front = front_of(sets, shutdowns, wishes, nodes=50)
    table = table_of(front, sets, n_held=99)
    assert (np.diff(table["holds_lifted"]) < 0).all()
    assert (np.diff(table["loss_avoided"]) > 0).all()
    assert (table["hours"] <= shutdowns.hours.sum() + 1e-6).all()
    assert (table["holds_lifted"] + table["holds_left"] == 99).all()
    for one in front.choices:
        done = sets[one.window >= 0]
        assert not done["unit"].duplicated().any()
        assert done["clears_hold"].sum() == one.holds
        assert done["loss_avoided"].sum() == pytest.approx(one.avoided)
        assert ((done["loss_avoided"] > 0) | done["clears_hold"]).all()
        assert not set(done["unit_id"]) & wishes.must_out
        unmet = set(wishes.unmet(sets, shutdowns, one.window >= 0)["unit_id"])
        assert wishes.must_in - set(done["unit_id"]) == unmet


def work(**columns):
    """Return four pieces of work at one site."""
    usual = {"unit": [0, 1, 2, 3], "site": "pit", "people": 1, "crane": False, "lead_days": 0}
    usual |= {
        "unit_id": ["A", "B", "C", "D"],
        "hours": [2.0, 2, 2, 2],
        "loss_avoided": [0.0, 10, 300, 500],
        "clears_hold": [True, True, False, False],
    }
    return pd.DataFrame(usual | columns)


def holds_and_loss(front):
    return [(one.holds, one.avoided) for one in front.choices]


def test_four_hours_by_hand():
    """A and B lift a hold each, C and D avoid 300 and 500: two pieces of work fit."""
    front = front_of(work(), one_shutdown(AS_OF, 4))
    assert holds_and_loss(front) == [(2, 10.0), (1, 510.0), (0, 800.0)]
    assert front.most_holds.words == (
        "no plan lifts more holds; of those that lift as many none avoids more"
    )
    assert front.choices[1].words == "of plans that lift at least 1 hold none avoids more"
    assert front.most_avoided.words == "by loss alone; no plan avoids more"
    assert [front.lifting(n).holds for n in (9, 2, 1, 0)] == [2, 2, 1, 0]
    done = ["".join(work()["unit_id"][one.window >= 0]) for one in front.choices]
    assert done == ["AB", "BD", "CD"]


def test_a_hold_that_costs_no_loss_is_lifted_at_every_point():
    front = front_of(work(hours=[0.5, 4, 2, 2]), one_shutdown(AS_OF, 4.5))
    assert holds_and_loss(front) == [(2, 10.0), (1, 800.0)]


def test_where_one_plan_does_both_it_stands_alone():
    assert holds_and_loss(front_of(work(), one_shutdown(AS_OF, 8))) == [(2, 810.0)]
    assert holds_and_loss(front_of(work(clears_hold=False), one_shutdown(AS_OF, 4))) == [(0, 800.0)]
    assert holds_and_loss(front_of(work(), one_shutdown(AS_OF, 1))) == [(0, 0.0)]


def test_a_number_of_holds_that_is_asked_for_has_a_plan():
    sets = draw_sets(np.random.default_rng(3), n_units=150)
    shutdown = one_shutdown(AS_OF, 60)
    few = front_of(sets, shutdown, between=1)
    asked = few.most_holds.holds - 1
    assert asked not in [one.holds for one in few.choices]
    more = front_of(sets, shutdown, between=1, asked=asked)
    assert asked in [one.holds for one in more.choices]
    assert more.lifting(asked).holds == asked


def test_a_unit_that_must_be_in_is_in_and_one_that_must_not_is_out():
    shutdown = one_shutdown(AS_OF, 4)
    wishes = Wishes(frozenset({"B"}), frozenset({"D"}))
    assert holds_and_loss(front_of(work(), shutdown, wishes)) == [(2, 10.0), (1, 310.0)]
    alone = choose(work(), shutdown, wishes=wishes, holds_first=False)
    assert alone.window.tolist() == [-1, 0, 0, -1]
    fits, why = wishes.fits(work(), shutdown)
    assert fits[:, 0].tolist() == [True, True, True, False]
    assert why.tolist() == ["", "", "", LEFT_OUT]


def test_what_cannot_be_in_is_named_with_why():
    sets = work(crane=[False, False, False, True])
    shutdown = one_shutdown(AS_OF, 4)
    shutdown.table["crane"] = "no"
    wishes = Wishes(frozenset({"A", "B", "C", "D", "E"}))
    front = front_of(sets, shutdown, wishes)
    chosen = front.most_holds.window >= 0
    assert chosen.tolist() == [True, True, False, False]
    assert wishes.unmet(sets, shutdown, chosen).to_numpy().tolist() == [
        ["C", NOT_ALL_FIT],
        ["D", "it needs a crane"],
        ["E", NOTHING_TO_DO],
    ]


def test_units_in_and_out_at_once_or_unknown_are_refused():
    with pytest.raises(FixableError, match="A: asked to be in and to be left out"):
        Wishes(frozenset({"A"}), frozenset({"A", "B"}))
    with pytest.raises(FixableError, match="Z: no unit in service"):
        Wishes(frozenset({"A"}), frozenset({"Z"})).refuse_unknown(["A", "B"])


def test_of_a_unit_whose_work_fits_nowhere_what_stands_in_the_way_of_the_first_is_told():
    sets = work(crane=[False, False, False, True])
    sets = pd.concat([sets, sets.tail(1).assign(crane=False, hours=5.0)], ignore_index=True)
    shutdown = one_shutdown(AS_OF, 4)
    shutdown.table["crane"] = "no"
    nothing = np.zeros(len(sets), dtype=bool)
    told = Wishes(frozenset({"D"})).unmet(sets, shutdown, nothing)
    assert told["why"].tolist() == ["it needs a crane"]
    turned = Wishes(frozenset({"D"})).unmet(sets[::-1], shutdown, nothing)
    assert turned["why"].tolist() == ["it takes more hours than any window has"]
