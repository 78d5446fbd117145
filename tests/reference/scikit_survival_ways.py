"""Our lives and tables in the ways of scikit-survival."""

from dataclasses import replace

import numpy as np
from sksurv.util import Surv


def structured(lives):
    return Surv.from_arrays(lives.failed, lives.end)


def at_the_age(uncensored):
    """Take the fraction under observation at an age where we ask for the one just before it."""
    return replace(uncensored, age=np.nextafter(uncensored.age, 0.0))
