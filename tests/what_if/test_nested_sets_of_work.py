"""More right work never leaves a unit worse, and a re-hang cures what it cures and nothing else.

All pairs of sensible sets of actions, one within the other, at generated units of several seeds.
A re-hang may bring what it brings: nobody has seen what hanging makes anew, and nobody knows the
crew. So pairs are left out of which only the larger takes the unit off its shaft.
"""

from functools import cache

import numpy as np
import pytest
from generated_fleets import AS_OF, generated_assessor
from naive_timeline import CURES, GOOD_IS_LOST, MADE_ANEW, THE_SHAFTS_AT_HOME

from scoring.consequences.joint_grip import joint_grip
from scoring.consequences.nameplate import read_nameplates
from scoring.contract.events import MODES
from scoring.contract.ranking import VERDICTS
from scoring.planning.sets_of_actions import possible_cures
from scoring.what_if.action_arrays import (
    ACTION_NAMES,
    CHECK_NAMES,
    FITS,
    NEW_BEARING,
    NEW_SEAL,
    OFF_SHAFT,
)
from scoring.what_if.candidates import Candidates, candidates_of
from scoring.what_if.known_after import known_after
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

SEEDS, SIZE = (431, 432, 433), 110
EPS = 1e-9
CHANCES = (*(f"p_{mode}_after" for mode in MODES), "expected_loss_after")
RENEWS = NEW_BEARING | NEW_SEAL
BELONGS_TO_BEARING = ("running_temperature_c", "vibration_mm_s")


@cache
def stood(seed, *, learned):
    """Return a generated fleet, how it stands and how often re-work succeeds there."""
    assessor = generated_assessor(SIZE, seed)
    learning = assessor.learn(AS_OF) if learned else None
    success = learn_rework_success(assessor.timeline, AS_OF)
    return assessor, assessor.assess(AS_OF, learning=learning), success


def sensible_sets(known, cures, draw):
    """Return units and every set, the empty one too, of seven actions that make sense there.

    Six at the most can cure something that was found; the rest make sense on the mounting, so that
    work is thought of too where nothing was found. But a part is renewed only where that cures
    something: a new one may fail early.
    """
    fits = FITS[known.units["mounting"].cat.codes.to_numpy()]
    masks = (np.arange(2**7)[:, np.newaxis] >> np.arange(7)) & 1 > 0
    flags = np.zeros((len(fits), len(masks), len(ACTION_NAMES)), dtype=bool)
    for place in range(len(fits)):
        own = draw.permutation(np.flatnonzero(cures[place]))[:6]
        other = draw.permutation(np.flatnonzero(fits[place] & ~cures[place] & ~RENEWS))
        flags[place][:, np.concatenate([own, other])[:7]] = masks
    return np.repeat(np.arange(len(fits)), len(masks)), flags.reshape(-1, len(ACTION_NAMES))


@cache
def weighed(seed, *, learned):
    """Return the sensible sets at every unit, what they bring included, and what each leaves."""
    assessor, assessment, success = stood(seed, learned=learned)
    draw = np.random.default_rng(seed)
    cures = possible_cures(assessment)
    sets = candidates_of(assessment.known, *sensible_sets(assessment.known, cures, draw))
    answers = what_if(assessor, assessment, sets, success, SiteEfforts())
    return sets.actions, answers


def nested_pairs(unit, actions):
    """Return places of sets A and B: A within B, and only where both or neither are hung anew."""
    off = (actions & OFF_SHAFT).any(axis=1)
    pairs = []
    for one in np.unique(unit):
        here = np.flatnonzero(unit == one)
        missing = actions[here].astype(int) @ (~actions[here]).astype(int).T  # of A, not in B
        within = (missing == 0) & (missing.T > 0)
        a, b = np.nonzero(within & (off[here][:, None] == off[here][None, :]))
        pairs.append((here[a], here[b]))
    return tuple(np.concatenate(side) for side in zip(*pairs, strict=True))


def told(answers, actions, a, b, worse):
    """Return the worst pairs as words, for whoever reads a failure."""
    rows = []
    for one, other in list(zip(a[worse], b[worse], strict=True))[:5]:
        more = np.array(ACTION_NAMES)[actions[other] & ~actions[one]]
        rows.append((answers["unit_id"][one], answers["actions"][one], "+", ";".join(more)))
    return rows


def pairs_of(seed, *, learned):
    actions, answers = weighed(seed, learned=learned)
    a, b = nested_pairs(answers["unit"].to_numpy(), actions)
    assert len(a) > 200 * SIZE
    return actions, answers, a, b


@pytest.mark.parametrize("learned", [False, True])
@pytest.mark.parametrize("seed", SEEDS)
def test_the_larger_of_two_sets_never_leaves_a_higher_chance_or_loss(seed, learned):
    actions, answers, a, b = pairs_of(seed, learned=learned)
    for column in CHANCES:
        left = answers[column].to_numpy()
        worse = left[b] > left[a] + EPS
        assert not worse.any(), (column, worse.sum(), told(answers, actions, a, b, worse))
    assert (answers["p_seal_leak_after"].to_numpy()[b] < answers["p_seal_leak_after"][a]).any()


@pytest.mark.parametrize("seed", SEEDS)
def test_the_larger_of_two_sets_never_leaves_a_worse_verdict(seed):
    """Of work that cures what was found: what was seen good is to be looked at again after it."""
    actions, answers, a, b = pairs_of(seed, learned=False)
    _, assessment, _ = stood(seed, learned=False)
    cured = possible_cures(assessment)
    own = candidates_of(assessment.known, np.arange(len(cured)), cured).actions
    cures = ~(actions & ~own[answers["unit"].to_numpy()]).any(axis=1)
    a, b = a[cures[b]], b[cures[b]]
    assert len(a) > SIZE
    severity = answers["verdict_after"].map({v: -n for n, v in enumerate(VERDICTS)}).to_numpy(int)
    worse = severity[b] > severity[a]  # the gravest comes first in the list
    assert not worse.any(), (worse.sum(), told(answers, actions, a, b, worse))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_larger_of_two_sets_never_leaves_less_grip(seed):
    actions, answers, a, b = pairs_of(seed, learned=False)
    _, assessment, success = stood(seed, learned=False)
    unit = answers["unit"].to_numpy()
    sets = Candidates(unit, actions)
    after = known_after(assessment.known, assessment.limits, sets, success.chance)
    grip = joint_grip(after, assessment.limits.at(unit), read_nameplates(after.units))
    for name in ("ratio", "margin", "low", "high"):
        left = getattr(grip, name)
        worse = left[b] < left[a] - EPS
        assert not worse.any(), (name, worse.sum(), told(answers, actions, a, b, worse))
    assert (grip.ratio[b] > grip.ratio[a]).any()


@pytest.mark.parametrize("as_on_record", [False, True])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_re_hang_leaves_each_finding_that_it_does_not_cure(seed, as_on_record):
    """Check by check and action by action, with what cures what as listed by hand."""
    _, assessment, success = stood(seed, learned=False)
    known = assessment.known
    chances = None if as_on_record else success.chance
    n_stood, n_lost = 0, 0
    for place in np.flatnonzero(OFF_SHAFT):
        unit = np.flatnonzero(FITS[known.units["mounting"].cat.codes.to_numpy(), place])
        flags = np.zeros((len(unit), len(ACTION_NAMES)), dtype=bool)
        flags[:, place] = True
        sets = candidates_of(known, unit, flags)
        after = known_after(known, assessment.limits, sets, chances)
        new_bearing = ACTION_NAMES[place] == "renew_bearing"
        for check in CHECK_NAMES:
            if check in CURES[ACTION_NAMES[place]] or (new_bearing and check in BELONGS_TO_BEARING):
                continue
            before = known.exceedance[check].to_numpy()[unit]
            then = after.exceedance[check].to_numpy()
            if check in MADE_ANEW:
                assert np.isnan(then).all()
                continue
            assert (then[before > 0] == before[before > 0]).all(), check
            n_stood += int((before > 0).sum())
            if check in GOOD_IS_LOST and check not in THE_SHAFTS_AT_HOME:
                assert np.isnan(then[~(before > 0)]).all(), check
                n_lost += int((before == 0).sum())
    assert n_stood > 2 * SIZE
    assert n_lost > 10 * SIZE
