"""Our lives and tables in the ways of scikit-survival."""

from dataclasses import replace

import numpy as np
from sksurv.util import Surv


def structured(lives):
    return Surv.from_arrays(lives.failed, lives.end)


def at_the_age(sight):
    """Take the fraction in sight at an age where we ask for the one just before it."""
    return replace(sight, age=np.nextafter(sight.age, 0.0))
