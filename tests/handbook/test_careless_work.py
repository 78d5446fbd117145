"""Worse work seen of a crew never makes what nobody saw of its work look better."""

import numpy as np
from drawn_looks import ANYBODY, CREWS, LEARNED, USUAL, looks
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM
from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.effect import Effect
from scoring.handbook.prevalence import Looks, shrink
from scoring.handbook.what_lowers_grip import GRIP_FAULTS

FEW = settings(
    deadline=None,
    derandomize=True,
    max_examples=25,
    suppress_health_check=[HealthCheck.too_slow],
)
MOUNTING = st.integers(0, len(EVERY_MOUNTING) - 1)


def chance_faulty(prevalence):
    return {name: 1 - shares[..., 0] for name, shares in prevalence.shares.items()}


def some_worse(drawn, data, mounting):
    """Let looks at one crew's work find a worse state than they did."""
    name, crew = data.draw(st.sampled_from([*USUAL])), data.draw(st.integers(0, ANYBODY - 1))
    counts = drawn[name].counts.copy()
    better = data.draw(st.integers(0, counts.shape[-1] - 2))
    worse = data.draw(st.integers(better + 1, counts.shape[-1] - 1))
    moved = min(counts[mounting, crew, better], data.draw(st.sampled_from((1, 50, 1e9))))
    counts[mounting, crew, better] -= moved
    counts[mounting, crew, worse] += moved
    return {**drawn, name: Looks(drawn[name].usual, counts)}, name, crew


def mean_multipliers(prevalence, crew):
    of_group = np.arange(len(EVERY_MOUNTING)) * (len(CREWS) + 1) + crew
    effects = [one for one in LEARNED if isinstance(one, Effect)]
    return np.array(
        [prevalence.mean_and_mean_square(e, mode, of_group)[0] for e in effects for mode in MODES]
        + [prevalence.shares[f.name][:, crew] @ (1 / np.array(f.ratios)) for f in GRIP_FAULTS]
        + [
            prevalence.arms(of_group).of(arm, len(of_group)) @ arm.spread.points
            for arm in STATES_OF_THE_ARM
        ]
    )


@FEW
@given(looks(every_check_alike=True), st.data())
def test_worse_work_seen_never_makes_what_nobody_saw_of_that_crew_s_look_better(drawn, data):
    one_mounting = data.draw(MOUNTING)
    for one in drawn.values():  # a crew that hangs one kind of unit
        one.counts[np.arange(len(EVERY_MOUNTING)) != one_mounting] = 0
    worse, _, crew = some_worse(drawn, data, one_mounting)
    before, after = (mean_multipliers(shrink(seen, CREWS), crew) for seen in (drawn, worse))
    assert (after >= before * (1 - 1e-12)).all()


@FEW
@given(looks(), st.data())
def test_with_uneven_looks_worse_work_never_looks_better_by_more_than_a_hundredth(drawn, data):
    """What a crew is found to do also moves what is expected of everybody.

    Where nearly all looks at one check, and few at others, are at the work of one crew, and nearly
    all of that is bad, one more fault adds less than one to the faults, but one to those expected.
    """
    mounting = data.draw(MOUNTING)
    worse, name, crew = some_worse(drawn, data, mounting)
    before, after = shrink(drawn, CREWS), shrink(worse, CREWS)
    one, other = (mean_multipliers(p, crew) for p in (before, after))
    assert (other >= 0.99 * one).all()
    faulty = [chance_faulty(p)[name][mounting, crew] for p in (before, after)]
    assert faulty[1] >= faulty[0] - 1e-12


def test_a_careless_crew_is_told_apart_from_a_careful_one():
    counts = {name: np.zeros((len(EVERY_MOUNTING), 3, len(u))) for name, u in USUAL.items()}
    for one in counts.values():
        one[:, 0, -1], one[:, 0, 0] = 60, 40
        one[:, 1, 0] = 100
    seen = {name: Looks(usual, counts[name]) for name, usual in USUAL.items()}
    learned = shrink(seen, CREWS)
    careless, careful = learned.carelessness["ratio"]
    assert careless > 1 > careful
    for faulty in chance_faulty(learned).values():
        assert (faulty[:, 0] > faulty[:, ANYBODY]).all()
        assert (faulty[:, ANYBODY] > faulty[:, 1]).all()
