"""What is believed of coefficients before a fleet's own failures are learned from."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class ColumnPrior:
    """A Gaussian belief of the coefficients of some columns.

    Attributes
    ----------
    mean : ndarray, shape (n_columns,)
        What each is expected to be beside the handbook. [-]
    covariance : ndarray, shape (n_columns, n_columns)
        How unsure that is. [-]
    """

    mean: Floats
    covariance: Floats

    @property
    def deviation(self) -> Floats:
        """Standard deviation of each coefficient [-], shape (n_columns,)."""
        return np.sqrt(np.diag(self.covariance))
