"""Which re-work is weighed, and in which sets it is weighed: by hand and by plain loops."""

from itertools import combinations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from small_fleets import TODAY, UNIT, WALKDOWN, fleet_of

from scoring.assessment import FleetAssessor
from scoring.planning.bundles import candidate_sets, worth_weighing
from scoring.planning.sets_of_actions import (
    Useful,
    first_of_each,
    sets_of_actions,
    useful_actions,
)
from scoring.what_if.action_arrays import ACTION_NAMES
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

OFF_THE_SHAFT = {
    "reseat_on_shaft",
    "renew_support_bushings",
    "clean_and_refit",
    "renew_shaft",
    "renew_key",
    "renew_bearing",
    "renew_seal",
    "true_shaft",
    "exchange_unit",
}


def assessed(unit=None, accepted=(), **seen):
    """Return one unit that was seen once, and how it stands."""
    looks = [{**WALKDOWN, **seen}]
    fleet = fleet_of(
        units=[{**UNIT, **(unit or {})}],
        walkdowns=looks,
        **({"accepted": list(accepted)} if accepted else {}),
    )
    assessor = FleetAssessor(fleet)
    return assessor, assessor.assess(TODAY)


def names(flags):
    return {name for name, flag in zip(ACTION_NAMES, flags, strict=True) if flag}


def useful(*given_to, **seen):
    found = useful_actions(assessed(*given_to, **seen)[1])
    return names(found.actions[0]), names(found.for_holds[0])


def test_what_cures_a_finding_is_useful_and_what_a_hold_names_is_for_holds():
    actions, for_holds = useful(bore_condition="oil_film", isolators_free=0, guard="missing")
    assert actions == {"clean_and_refit", "back_off_isolators", "fit_guard"}
    assert for_holds == {"clean_and_refit", "fit_guard"}


def test_what_a_finding_names_is_weighed_and_not_what_else_may_cure_it():
    """So a plan never does other work for a reason than the ranking names beside it."""
    assert useful(shaft_end="short") == ({"reseat_on_shaft"}, {"reseat_on_shaft"})
    home = useful(shaft_end="short", seated="home")
    assert home == ({"renew_shaft"}, {"renew_shaft"})
    both = {"restore_isolation", "restore_clearance"}
    assert useful(metal_contact="yes") == (both, both)


def test_findings_to_be_corrected_are_for_no_hold():
    assert useful({"mounting": "keyed_bore"}, retention="loose", breather="plugged") == (
        {"tighten_retention", "open_breather"},
        set(),
    )


def test_symptoms_and_good_checks_ask_for_no_re_work():
    assert useful(vibration_mm_s=9, running_temperature_c=120, guard="fitted") == (set(), set())
    assert useful(seal_weep="damp") == (set(), set())


def test_a_finding_that_somebody_answers_for_asks_for_no_re_work():
    row = {
        "accepted_id": "A1",
        "unit_id": "U1",
        "check": "guard",
        "accepted_by": "engineer 3",
        "reason": "fenced off",
        "accepted_on": "2026-02-01",
        "until_on": "2026-12-31",
    }
    both = {"guard": "missing", "breather": "plugged"}
    assert useful(None, [row], **both) == ({"open_breather"}, set())
    assert useful(None, [{**row, "until_on": "2026-03-01"}], **both) == (
        {"open_breather", "fit_guard"},
        {"fit_guard"},
    )


def test_a_joint_that_slips_asks_for_the_cure_that_its_finding_names():
    rated = {"joint_rated_torque_nm": 500, "output_torque_nm": 2000, "peak_factor": 3}
    found = useful(rated, engagement_mm=150, disc_offset_mm=5)
    assert found == ({"recentre_disc"}, {"recentre_disc"})


def test_a_joint_that_slips_though_nothing_was_found_asks_for_no_re_work():
    rated = {"joint_rated_torque_nm": 500, "output_torque_nm": 2000, "peak_factor": 3}
    _, assessment = assessed(rated, engagement_mm=150)
    assert assessment.ranking["verdict"].tolist() == ["hold"]
    assert names(useful_actions(assessment).actions[0]) == set()
    first = assessment.ranking["first_action"].iloc[0]
    assert first.startswith("look closer: check rating, running torque and peak on record")


def test_each_unit_has_its_own():
    fleet = fleet_of(
        units=[{**UNIT, "unit_id": name} for name in ("U1", "U2", "U3")],
        walkdowns=[
            {**WALKDOWN, "walkdown_id": "W1", "unit_id": "U3", "guard": "missing"},
            {**WALKDOWN, "walkdown_id": "W2", "unit_id": "U1", "oil_level": "high"},
        ],
    )
    found = useful_actions(FleetAssessor(fleet).assess(TODAY))
    assert [names(row) for row in found.actions] == [{"correct_oil_level"}, set(), {"fit_guard"}]
    assert [names(row) for row in found.for_holds] == [set(), set(), {"fit_guard"}]


# Sets


def flags_of(some):
    return np.array([[name in one for name in ACTION_NAMES] for one in some], dtype=bool)


def sets_by_unit(units, merit):
    """Return the sets weighed at each unit, given as useful actions and those for holds."""
    useful_to = Useful(flags_of([a for a, _ in units]), flags_of([h for _, h in units]))
    merits = np.array([[one.get(name, 0.0) for name in ACTION_NAMES] for one in merit])
    unit, flags = sets_of_actions(useful_to, merits)
    answer = [[] for _ in units]
    for place, row in zip(unit, flags, strict=True):
        answer[place].append(frozenset(names(row)))
    assert all(len(set(one)) == len(one) for one in answer)  # none comes twice
    return [set(one) for one in answer]


def best_first(some, merit):
    return sorted(some, key=lambda name: (-merit[name], ACTION_NAMES.index(name)))


def sets_in_plain_words(actions, for_holds, merit):
    """Form the sets one by one: alone, all of the five best, growing; for holds."""
    sets = {frozenset({name}) for name in actions}
    held = sorted(for_holds, key=ACTION_NAMES.index)
    five = (held + best_first(actions - for_holds, merit))[:5]
    sets |= {frozenset(some) for size in range(1, 6) for some in combinations(five, size)}
    for order in (
        best_first(actions - OFF_THE_SHAFT, merit),
        best_first(actions, merit),
        held + best_first(actions - for_holds, merit),
    ):
        sets |= {frozenset(order[:size]) for size in range(1, len(order) + 1)}
    return (sets | {frozenset(for_holds)}) - {frozenset()}


SOME_ACTIONS = st.sets(st.sampled_from(ACTION_NAMES), max_size=9)


@st.composite
def units_of_work(draw):
    actions = draw(SOME_ACTIONS)
    for_holds = draw(st.sets(st.sampled_from(sorted(actions)), max_size=2)) if actions else set()
    merit = {name: draw(st.integers(0, 50)) for name in actions}
    return actions, for_holds, merit


@given(st.lists(units_of_work(), min_size=1, max_size=4))
def test_sets_are_those_formed_one_by_one(units):
    found = sets_by_unit([(a, h) for a, h, _ in units], [merit for _, _, merit in units])
    assert found == [sets_in_plain_words(*one) for one in units]


def test_of_seven_actions_by_hand():
    """What lifts the hold and the four best in all sets; others alone, last of all, or after it."""
    order = [  # the best by the hour first
        "fit_guard",
        "open_breather",
        "clean_and_refit",
        "back_off_isolators",
        "tighten_arm_bolts",
        "realign_arm",
        "renew_shaft",
    ]
    merit = {name: float(9 - place) for place, name in enumerate(order)}
    (found,) = sets_by_unit([(set(order), {"realign_arm"})], [merit])
    five, six = ["realign_arm", *order[:4]], order[:6]
    assert {one for one in found if one <= set(five)} == {
        frozenset(some) for size in range(1, 6) for some in combinations(five, size)
    }
    on_shaft = [name for name in six if name != "clean_and_refit"]
    assert {one for one in found if not one <= set(five)} == {
        frozenset({"tighten_arm_bolts"}),
        frozenset({"renew_shaft"}),
        frozenset(order[:5]),
        frozenset(six),
        frozenset(order),
        frozenset(on_shaft[:4]),
        frozenset(on_shaft),
    }


def test_a_unit_without_useful_actions_has_no_set():
    assert sets_by_unit([(set(), set()), ({"fit_guard"}, set())], [{}, {"fit_guard": 1.0}]) == [
        set(),
        {frozenset({"fit_guard"})},
    ]


# What is weighed


def weighed_sets(assessor, assessment):
    success = learn_rework_success(assessor.timeline, TODAY)
    found = useful_actions(assessment)
    sets = candidate_sets(assessor, assessment, found, success, SiteEfforts())
    return sets, what_if(assessor, assessment, sets, success, SiteEfforts())


def test_what_an_action_brings_is_counted_and_no_set_weighed_twice():
    sets, _ = weighed_sets(*assessed(disc_offset_mm=5, torque_passes=1, guard="missing"))
    torque, disc, guard = "retorque_in_passes", "recentre_disc", "fit_guard"
    got = [frozenset(names(row)) for row in sets.actions]
    assert len(got) == len(set(got))
    assert set(got) == {  # to centre the disc brings the torque: without it there is no such set
        frozenset({torque}),
        frozenset({guard}),
        frozenset({torque, guard}),
        frozenset({torque, disc}),
        frozenset({torque, disc, guard}),
    }


def test_pairs_are_weighed_of_the_five_that_avoid_most_an_hour_alone():
    sets, weighed = weighed_sets(
        *assessed(
            {"mounting": "keyed_bore"},
            isolators_free=0,
            arm_bolts="loose",
            breather="plugged",
            oil_level="low",
            smallest_clearance_mm=1,
            retention="loose",
            shaft_runout_mm=0.6,
        )
    )
    size = sets.actions.sum(axis=1)
    alone = weighed[size == 1]
    saved = alone["expected_loss"] - alone["expected_loss_after"]
    by_hour = dict(zip(alone["actions"], saved / alone["hours"], strict=True))
    assert len(by_hour) == 7
    best = sorted(by_hour, key=by_hour.get, reverse=True)[:5]
    pairs = {frozenset(text.split(";")) for text in weighed["actions"][size == 2]}
    # growing from the hold, or on the shaft, may add pairs; of the five best there is every one
    assert {pair for pair in pairs if pair <= set(best)} == {
        frozenset(pair) for pair in combinations(best, 2)
    }
    assert len(pairs) <= 10 + 3


SETS = st.lists(
    st.tuples(
        st.integers(0, 2),  # unit
        st.integers(1, 3),  # hours
        st.integers(1, 2),  # people
        st.booleans(),  # crane
        st.sampled_from([0, 7]),  # days until its parts are there
        st.sampled_from([0.0, 10.0, 20.0]),  # loss avoided
        st.booleans(),  # lifts the hold
    ),
    max_size=14,
)
COLUMNS = ["unit", "hours", "people", "crane", "lead_days", "loss_avoided", "clears_hold"]


def needs_no_more_and_gives_no_less(one, other):
    return all(one[n] <= other[n] for n in range(1, 5)) and all(one[n] >= other[n] for n in (5, 6))


@given(SETS)
def test_what_is_left_out_avoids_nothing_or_is_bettered_by_what_stays(drawn):

    table = pd.DataFrame(drawn, columns=COLUMNS).astype({"crane": bool, "clears_hold": bool})
    kept = worth_weighing(table.assign(cost=1.0))
    stays = list(kept[COLUMNS].itertuples(index=False, name=None))
    assert stays == sorted(stays, key=lambda one: (one[0], one[1], -one[5]))
    for one in stays:
        assert one[5] > 0 or one[6]
        others = [other for other in stays if other[0] == one[0] and other is not one]
        assert not any(needs_no_more_and_gives_no_less(other, one) for other in others)
    for one in drawn:
        mine = [other for other in stays if other[0] == one[0]]
        worth = one[5] > 0 or one[6]
        assert not worth or any(needs_no_more_and_gives_no_less(other, one) for other in mine)


@pytest.mark.parametrize("loss", [10.0, 3e9])
@pytest.mark.parametrize("seed", range(3))
def test_the_cheaper_of_two_that_are_equal_in_all_else_stays(seed, loss):
    """In a currency of small units too, of which the least counted is lost beside the sums."""
    draw = np.random.default_rng(seed)
    table = pd.DataFrame([(0, 2.0, 1, False, 0, loss, False)] * 3, columns=COLUMNS)
    table = table.assign(cost=draw.permutation([5.0, 7.0, 9.0]))
    assert worth_weighing(table)["cost"].tolist() == [5.0]


@pytest.mark.parametrize("loss", [10.0, 3e9])
def test_a_set_that_avoids_as_much_in_more_hours_is_left_out(loss):
    rows = [(0, 3.0, 1, False, 0, loss, False), (0, 2.0, 1, False, 0, loss, False)]
    table = pd.DataFrame(rows, columns=COLUMNS).assign(cost=1.0)
    assert worth_weighing(table)["hours"].tolist() == [2.0]
    people = table.assign(hours=2.0, people=[2, 1])  # stands before the one that betters it
    assert worth_weighing(people)["people"].tolist() == [1]


@pytest.mark.parametrize("seed", range(5))
def test_of_sets_of_a_unit_that_are_the_same_the_first_is_kept(seed):
    draw = np.random.default_rng(seed)
    unit, sets = draw.integers(0, 3, 40), draw.random((40, 3)) < 0.5
    first = first_of_each(unit, sets).tolist()
    said = [(one, *row) for one, row in zip(unit.tolist(), sets.tolist(), strict=True)]
    assert sorted(first) == [n for n, one in enumerate(said) if one not in said[:n]]
    assert unit[first].tolist() == sorted(unit[first].tolist())
