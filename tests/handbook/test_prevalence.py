"""How usual faults are where nobody looked: shares, carelessness, and what must not matter."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from drawn_looks import CREWS, LEARNED, USUAL, looks
from generated_fleets import AS_OF, generated_assessor
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM
from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.condition import Evidence
from scoring.handbook.learn_prevalence import learn_prevalence
from scoring.handbook.multipliers import EFFECTS
from scoring.handbook.prevalence import (
    FAULTS_OF_THE_FLEET,
    LOOKS_OF_THE_FLEET,
    LOOKS_OF_THE_HANDBOOK,
    MOST_FAULTY,
    Looks,
    Prevalence,
    shrink,
)
from scoring.records import has_mounting
from scoring.timeline.first_looks import first_looks

FEW = settings(
    deadline=None,
    derandomize=True,
    max_examples=25,
    suppress_health_check=[HealthCheck.too_slow],
)
MOUNTING = st.integers(0, len(EVERY_MOUNTING) - 1)


def frames_of(known):
    return {
        name: frame
        for name in ("units", "found", "exceedance", "status", "seen_on", "history")
        if isinstance(frame := getattr(known, name), pd.DataFrame)
    }


def first_and_limits(n_units=200, seed=2):
    assessor = generated_assessor(n_units, seed)
    return first_looks(assessor.timeline, AS_OF), assessor.limits


@FEW
@given(looks())
def test_shares_add_up_are_never_negative_and_leave_the_good_state_its_least(drawn):
    learned = shrink(drawn, CREWS)
    assert learned.shares.keys() == USUAL.keys()
    for name, shares in learned.shares.items():
        assert shares.shape == (len(EVERY_MOUNTING), len(CREWS) + 1, len(USUAL[name]))
        assert shares.sum(axis=-1) == pytest.approx(1, abs=1e-12)
        assert shares.min() >= 0
        assert shares[..., 0].min() >= 1 - MOST_FAULTY - 1e-12
    assert (learned.carelessness["ratio"] > 0).all()


def test_the_cap_holds_against_thousands_of_faulty_looks_of_everybody():
    seen = Looks((0.5, 0.3, 0.2), np.array([[[0, 9e3, 9e5], [0, 0, 9e5]]] * 4))
    shares = shrink({"made up": seen}, ("crew A",)).shares["made up"]
    assert shares[..., 0] == pytest.approx(1 - MOST_FAULTY)
    assert shares[..., 1] == pytest.approx(0)  # what is too much is taken from the mildest


def test_where_nobody_looked_the_shares_are_the_handbook_s():
    nothing = {
        name: Looks(usual, np.zeros((len(EVERY_MOUNTING), len(CREWS) + 1, len(usual))))
        for name, usual in USUAL.items()
    }
    learned = shrink(nothing, CREWS)
    for name, shares in learned.shares.items():
        assert shares == pytest.approx(np.broadcast_to(USUAL[name], shares.shape), abs=1e-15)
    group = np.arange(len(EVERY_MOUNTING) * (len(CREWS) + 1))
    for effect in EFFECTS:
        for mode in MODES:
            ours, handbook = (
                p.mean_and_mean_square(effect, mode, group) for p in (learned, Prevalence())
            )
            np.testing.assert_allclose(ours, handbook, rtol=1e-14)
    arms, usual = learned.arms(group), Prevalence().arms(group)
    for arm in STATES_OF_THE_ARM:
        ours, handbook = (one.of(arm, len(group)) for one in (arms, usual))
        np.testing.assert_allclose(ours, handbook, rtol=1e-14)
    assert learned.carelessness["ratio"].tolist() == [1, 1]


def plain_shrink(seen, crews):
    """Tell the shares crew by crew and state by state."""
    of = {}
    for name, one in seen.items():
        for mounting in range(len(EVERY_MOUNTING)):
            found = one.counts[mounting].sum(axis=0)
            total = found.sum() + LOOKS_OF_THE_HANDBOOK
            usual = zip(found, one.usual, strict=True)
            of[name, mounting] = [(n + LOOKS_OF_THE_HANDBOOK * u) / total for n, u in usual]
    shares = {}
    for crew in range(len(crews) + 1):
        faults = expected = FAULTS_OF_THE_FLEET
        for (name, mounting), everybody in of.items():
            own = seen[name].counts[mounting, crew]
            faults += own[1:].sum()
            expected += own.sum() * sum(everybody[1:])
        ratio = faults / expected if crew < len(crews) else 1.0
        for (name, mounting), everybody in of.items():
            own = (
                seen[name].counts[mounting, crew] if crew < len(crews) else 0 * np.array(everybody)
            )
            faulty = at_most_faulty([ratio * share for share in everybody[1:]])
            awaited = [1 - sum(faulty), *faulty]
            total = own.sum() + LOOKS_OF_THE_FLEET
            whole = zip(own, awaited, strict=True)
            drawn = [(n + LOOKS_OF_THE_FLEET * share) / total for n, share in whole]
            faulty = at_most_faulty(drawn[1:])
            shares[name, mounting, crew] = [1 - sum(faulty), *faulty]
    return shares


def at_most_faulty(shares):
    """Take what is too much from the mildest."""
    left, too_much = [], max(0.0, sum(shares) - MOST_FAULTY)
    for share in shares:
        left.append(max(0.0, share - too_much))
        too_much = max(0.0, too_much - share)
    return left


@FEW
@given(looks())
def test_shares_are_those_of_a_plain_loop(drawn):
    shares = shrink(drawn, CREWS).shares
    for (name, mounting, crew), plain in plain_shrink(drawn, CREWS).items():
        np.testing.assert_allclose(shares[name][mounting, crew], plain, rtol=1e-9, atol=1e-12)


def test_looks_of_a_fleet_are_counted_as_by_a_plain_loop():
    first, limits = first_and_limits()
    learned = learn_prevalence(first, limits)
    crews = sorted({crew for crew in first.history["crew"] if isinstance(crew, str)})
    assert list(learned.crews) == crews
    mountings = [EVERY_MOUNTING.index(mounting) for mounting in first.units["mounting"]]
    who = [crews.index(c) if isinstance(c, str) else len(crews) for c in first.history["crew"]]
    seen = {}
    for effect in LEARNED:
        counts = np.zeros((len(EVERY_MOUNTING), len(crews) + 1, len(effect.states)))
        state = effect.state(Evidence(first, limits))
        here = has_mounting(first.units, effect.mountings)
        for unit in np.flatnonzero(here & ~np.isnan(state)):
            counts[mountings[unit], who[unit]] += parted(float(state[unit]), effect.states)
        seen[effect.name] = Looks(effect.usual, counts)
    for arm in STATES_OF_THE_ARM:
        states, usual = arm.spread.points, arm.spread.shares
        counts = np.zeros((len(EVERY_MOUNTING), len(crews) + 1, len(states)))
        value = (first.found if arm.measured else first.exceedance)[arm.check]
        for unit, state in enumerate(value):
            if not np.isnan(state):
                counts[mountings[unit], who[unit]] += parted(float(state), states)
        seen[arm.name] = Looks(usual, counts)
    for (name, mounting, crew), plain in plain_shrink(seen, crews).items():
        np.testing.assert_allclose(learned.shares[name][mounting, crew], plain, rtol=1e-9)
    assert {*learned.shares} == {*USUAL}  # nothing of symptoms


def parted(state, states):
    """Part one look between the two states that it lies between."""
    weights = np.zeros(len(states))
    if state >= states[-1]:
        weights[-1] = 1
    elif state <= states[0]:
        weights[0] = 1
    else:
        above = next(n for n, one in enumerate(states) if one > state)
        share = (state - states[above - 1]) / (states[above] - states[above - 1])
        weights[above - 1], weights[above] = 1 - share, share
    return weights


@pytest.mark.parametrize("seed", [1, 2])
def test_the_order_of_units_does_not_matter(seed):
    first, limits = first_and_limits()
    order = np.random.default_rng(seed).permutation(len(first.units))
    shuffled = replace(
        first,
        place=first.place[order],
        **{name: f.iloc[order].reset_index(drop=True) for name, f in frames_of(first).items()},
    )
    of_shuffled = limits.at(order)
    one, other = learn_prevalence(first, limits), learn_prevalence(shuffled, of_shuffled)
    assert one.crews == other.crews
    for name in one.shares:
        np.testing.assert_allclose(other.shares[name], one.shares[name], rtol=1e-12)


def test_the_names_of_crews_do_not_matter():
    first, limits = first_and_limits(2000, 1)
    one = learn_prevalence(first, limits)
    names = [f"crew {n:03d}" for n in reversed(range(len(one.crews)))]
    renamed = first.history["crew"].map(dict(zip(one.crews, names, strict=True)))
    other = learn_prevalence(replace(first, history=pd.DataFrame({"crew": renamed})), limits)
    assert other.crews == tuple(sorted(names))
    backwards = [*range(len(names) - 1, -1, -1), len(names)]
    for name in one.shares:
        np.testing.assert_allclose(other.shares[name][:, backwards], one.shares[name], rtol=1e-12)


def test_a_crew_that_nobody_knows_is_anybody():
    learned = learn_prevalence(*first_and_limits())
    first, _ = first_and_limits()
    stranger = replace(first, history=first.history.assign(crew="never heard of"))
    nameless = replace(first, history=first.history.assign(crew=None))
    codes = first.units["mounting"].cat.codes.to_numpy()
    anybody = codes * (len(learned.crews) + 1) + len(learned.crews)
    for known in (stranger, nameless):
        assert learned.groups(known).tolist() == anybody.tolist()
