"""How far failures lie from what was expected."""

import numpy as np

from scoring.learning.weighted_gram import Floats


def poisson_deviance(events: Floats, expected: Floats) -> float:
    """Return the Poisson deviance of failures about what was expected.

    Parameters
    ----------
    events : ndarray, shape (n_rows,)
        Failures, not below 0. [-]
    expected : ndarray, shape (n_rows,)
        Expected failures, above 0 wherever there is a failure. [-]

    Returns
    -------
    float
        Twice the log likelihood that is missing to a perfect fit. [-]

    Examples
    --------
    >>> round(poisson_deviance(np.array([0.0, 2.0]), np.array([1.0, 1.0])), 4)
    2.7726
    """
    fails = events > 0
    surprise = events[fails] @ np.log(events[fails] / expected[fails])
    return float(2 * (surprise - events.sum() + expected.sum()))
