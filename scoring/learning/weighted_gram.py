"""Products of a tall design, dense or sparse, with weights on its rows."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
ROWS_AT_ONCE = 1024
"""Rows multiplied in one go: no copy of a tall design is made, and the cache holds them. Ours."""
Design = Any
"""A dense array or a SciPy CSR array, shape (n_rows, n_columns): both know ``@`` and ``.T``. [-]"""


def weighted_gram(design: Design, weights: Floats, *, rough: bool = False) -> Floats:
    """Sum the outer products of the rows of a design, each with its weight.

    Parameters
    ----------
    design : ndarray or sparse array, shape (n_rows, n_columns)
        The rows. [-]
    weights : ndarray, shape (n_rows,)
        One weight a row, not below 0. [-]
    rough : bool
        Whether single precision will do, which takes half as long; of dense designs only.

    Returns
    -------
    ndarray, shape (n_columns, n_columns)
        ``X' diag(w) X``. [-]

    Examples
    --------
    >>> weighted_gram(np.array([[1.0, 2.0], [0.0, 1.0]]), np.array([2.0, 3.0]))
    array([[ 2.,  4.],
           [ 4., 11.]])
    """
    if is_sparse(design):
        product: Floats = (design.T @ scaled_rows(design, weights)).toarray()
        return product
    precision = np.float32 if rough else np.float64
    gram = np.zeros((design.shape[1], design.shape[1]))
    roots = np.sqrt(weights).astype(precision)[:, np.newaxis]
    for start in range(0, len(roots), ROWS_AT_ONCE):
        some = slice(start, start + ROWS_AT_ONCE)
        rooted = design[some].astype(precision, copy=False) * roots[some]
        gram += rooted.T @ rooted
    return gram


def scaled_rows(design: Design, factors: Floats) -> Design:
    """Multiply each row of a design by its factor.

    Parameters
    ----------
    design : ndarray or sparse array, shape (n_rows, n_columns)
        The rows. [-]
    factors : ndarray, shape (n_rows,)
        One factor a row. [-]

    Returns
    -------
    ndarray or sparse array, shape (n_rows, n_columns)
        ``diag(f) X``, sparse if the design is. [-]

    Examples
    --------
    >>> scaled_rows(np.array([[1.0, 2.0]]), np.array([3.0]))
    array([[3., 6.]])
    """
    if is_sparse(design):
        return design.multiply(factors[:, None]).tocsr()
    return design * factors[:, None]


def summed_by_group(design: Design, factors: Floats, group: NDArray[np.int64]) -> Floats:
    """Sum the rows of a design, each with its factor, within groups.

    Parameters
    ----------
    design : ndarray or sparse array, shape (n_rows, n_columns)
        The rows. [-]
    factors : ndarray, shape (n_rows,)
        One factor a row. [-]
    group : ndarray of int, shape (n_rows,)
        Number of the group of each row, from 0. [-]

    Returns
    -------
    ndarray, shape (n_groups, n_columns)
        The sums. [-]

    Examples
    --------
    >>> summed_by_group(np.array([[1.0], [2.0], [4.0]]), np.ones(3), np.array([0, 1, 0]))
    array([[5.],
           [2.]])
    """
    sums = np.zeros((int(group.max()) + 1, design.shape[1]))
    order = np.argsort(group, kind="stable")
    for start in range(0, len(order), ROWS_AT_ONCE):
        some = order[start : start + ROWS_AT_ONCE]
        rows = scaled_rows(design[some], factors[some])
        of_row = group[some]
        first = np.flatnonzero(np.append(True, of_row[1:] != of_row[:-1]))
        dense = rows.toarray() if is_sparse(rows) else rows
        sums[of_row[first]] += np.add.reduceat(dense, first, axis=0)
    return sums


def is_sparse(design: Design) -> bool:
    """Tell whether a design is one of SciPy's, without importing it: that takes half a second."""
    return not isinstance(design, np.ndarray)
