"""Questions put to a generated fleet."""

from functools import cache

import numpy as np
import pandas as pd
from generated_fleets import AS_OF, generated_assessor

from scoring.contract.mountings import EVERY_MOUNTING
from scoring.what_if.action_arrays import ACTION_NAMES, FITS
from scoring.what_if.candidates import candidates_of
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

SIZE, SEED = 160, 411
EPS = 1e-9


@cache
def asked_fleet():
    """Return a generated fleet, what its failures say, and how it stands."""
    assessor = generated_assessor(SIZE, SEED)
    return assessor, assessor.assess(AS_OF, learning=assessor.learn(AS_OF))


def mounting_of(known):
    return known.units["mounting"].cat.codes.to_numpy().astype(np.int64)


def every_single_action(known):
    """Units and flags of every action that makes sense."""
    unit, action = np.nonzero(FITS[mounting_of(known)])
    flags = np.zeros((len(unit), len(ACTION_NAMES)), dtype=bool)
    flags[np.arange(len(unit)), action] = True
    return unit, flags


def random_sets(known, seed, rows, share=0.2):
    """Draw sets of actions that make sense."""
    draw = np.random.default_rng(seed)
    unit = draw.integers(0, len(known.units), rows)
    return unit, (draw.random((rows, len(ACTION_NAMES))) < share) & FITS[mounting_of(known)[unit]]


def ask(unit, flags, *, efforts=None, success="learned", looked=None) -> pd.DataFrame:
    assessor, assessment = asked_fleet()
    chances = learn_rework_success(assessor.timeline, AS_OF) if success == "learned" else success
    candidates = candidates_of(assessment.known, unit, flags, looked)
    return what_if(assessor, assessment, candidates, chances, efforts or SiteEfforts())


__all__ = ["ACTION_NAMES", "AS_OF", "EPS", "EVERY_MOUNTING"]
