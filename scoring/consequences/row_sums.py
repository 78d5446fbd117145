"""Sums along rows that do not depend on how many rows there are, to the last digit.

NumPy adds up the columns of one row in another order than those of many, and so does BLAS at the
end of a table. So a unit judged alone would differ from the same unit within its fleet.
"""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def row_sums(terms: Floats) -> Floats:
    """Add up the columns of each row, from the first to the last.

    Parameters
    ----------
    terms : ndarray, shape (n_rows, n_columns)
        [any]

    Returns
    -------
    ndarray, shape (n_rows,)
        [as given]

    Examples
    --------
    >>> row_sums(np.array([[1.0, 2.0, 3.0], [0.5, 0.0, 0.0]])).tolist()
    [6.0, 0.5]
    """
    total = np.zeros(len(terms))
    for column in np.ascontiguousarray(terms.T):
        total += column
    return total


def rows_times(rows: Floats, factors: Floats) -> Floats:
    """Multiply each column by its factor, and add up the columns of each row.

    Parameters
    ----------
    rows : ndarray, shape (n_rows, n_columns)
        [any]
    factors : ndarray, shape (n_columns,)
        [any]

    Returns
    -------
    ndarray, shape (n_rows,)
        [product of both]

    Examples
    --------
    >>> rows_times(np.array([[1.0, 2.0], [0.5, 0.0]]), np.array([10.0, 1.0])).tolist()
    [12.0, 5.0]
    """
    total = np.zeros(len(rows))
    for column, factor in zip(np.ascontiguousarray(rows.T), factors, strict=True):
        total += column * factor
    return total
