"""Rates of damage to ships by type, year of building and period of service.

A Poisson fit with time at risk, no two cells of the same.
"""

import numpy as np
import pytest
from published_lifetimes import numbers

from scoring.learning.hazard_posterior import HazardPosterior
from scoring.learning.poisson_deviance import poisson_deviance

# by type A to E, then by year of building, for each the periods from 1960 and from 1975
MONTHS = numbers("""
    127 63 1095 1095 1512 3353 0 2244
    44882 17176 28609 20370 7064 13099 0 7117
    1179 552 781 676 783 1948 0 274
    251 105 288 192 349 1208 0 2051
    45 0 789 437 1157 2161 0 542
""")
DAMAGES = numbers("""
    0 0 3 4 6 18 0 11
    39 29 58 53 12 44 0 18
    1 1 0 1 6 2 0 1
    0 0 0 0 2 11 0 4
    0 0 7 7 5 12 0 1
""")
"""Months in service, and incidents of damage by waves.

Data table read in csv/MASS/ships.csv of Rdatasets; McCullagh & Nelder 1989, 6.3, from memory.
"""


def test_rates():
    """Computed with statsmodels 0.15.0 and scikit-learn 1.9.1.

    McCullagh & Nelder 1989, 6.3, print -6.41; -.54, -.69, -.08, .33; .70, .82, .45; .38; deviance
    38.7 with 25 degrees of freedom, dispersion 1.69: from memory.
    """
    kind, year, period = np.indices((5, 4, 2)).reshape(3, -1)
    known = np.column_stack([np.eye(5)[kind][:, 1:], np.eye(4)[year][:, 1:], period])
    used = MONTHS > 0
    found = HazardPosterior(prior_scale=2e4, level_scale=2e4).fit(
        known[used], DAMAGES[used], exposure=MONTHS[used]
    )
    assert used.sum() == 34
    assert found.level_ == pytest.approx(-6.405902, abs=2e-6)
    of_kind = [-0.543344, -0.687402, -0.075961, 0.325579]
    of_year = [0.69714, 0.818427, 0.453427]
    np.testing.assert_allclose(found.coef_, [*of_kind, *of_year, 0.384467], atol=2e-6)
    learned = found.predict(known[used]) * MONTHS[used]
    assert poisson_deviance(DAMAGES[used], learned) == pytest.approx(38.695052, abs=2e-6)
    dispersion = ((DAMAGES[used] - learned) ** 2 / learned).sum() / (34 - 9)
    assert dispersion == pytest.approx(1.69101, abs=2e-6)
