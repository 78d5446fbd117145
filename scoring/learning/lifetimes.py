"""Lifetimes as they are known: some ended, some still running, some seen from late on."""

from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from scoring.learning.weighted_gram import Floats


@dataclass(frozen=True)
class Lifetimes:
    """Ages at which units came under observation and left it.

    A unit is at risk of failing at an age if it came under observation before and has not left
    before: entry < age <= end.

    Attributes
    ----------
    end : ndarray, shape (n_rows,)
        Age at failure, or up to which the unit ran, above ``entry``. [any unit of age]
    failed : ndarray of bool, shape (n_rows,)
        Whether it failed then. [-]
    entry : ndarray, shape (n_rows,)
        Age from which a failure would have been seen. [same]
    count : ndarray, shape (n_rows,)
        How many units the row stands for. [-]
    """

    end: Floats
    failed: NDArray[np.bool_]
    entry: Floats
    count: Floats

    @classmethod
    def of(
        cls,
        end: ArrayLike,
        failed: ArrayLike,
        entry: ArrayLike = 0.0,
        count: ArrayLike = 1.0,
    ) -> Self:
        """Check and take in lifetimes.

        Parameters
        ----------
        end : array_like, shape (n_rows,)
            Age at failure, or up to which the unit ran, above ``entry``. [any unit of age]
        failed : array_like of bool, shape (n_rows,), or bool
            Whether it failed then. [-]
        entry : array_like, shape (n_rows,), or float, default 0
            Age from which a failure would have been seen, not below 0. [same]
        count : array_like, shape (n_rows,), or float, default 1
            How many units the row stands for, not below 0. [-]

        Returns
        -------
        Lifetimes

        Raises
        ------
        ValueError
            If a number is missing or out of its range.

        Examples
        --------
        >>> Lifetimes.of([2.0, 5.0], [True, False]).entry
        array([0., 0.])
        """
        ends = np.atleast_1d(np.asarray(end, dtype=np.float64))
        ended = np.array(np.broadcast_to(np.asarray(failed, dtype=bool), ends.shape))
        entries = np.array(np.broadcast_to(np.asarray(entry, dtype=np.float64), ends.shape))
        counts = np.array(np.broadcast_to(np.asarray(count, dtype=np.float64), ends.shape))
        if not ((entries >= 0) & (ends > entries) & np.isfinite(ends)).all():
            raise ValueError(
                "a lifetime ends after it comes under observation, and not before age 0"
            )
        if not (counts >= 0).all():
            raise ValueError("a row stands for no fewer than 0 units")
        return cls(ends, ended, entries, counts)
