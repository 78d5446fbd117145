"""Numbers as callers give them: one for all, or one for each column or row."""

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray
from sklearn.utils.validation import check_array

from scoring.learning.weighted_gram import Floats


def column_values(name: str, values: ArrayLike, n_columns: int) -> Floats:
    """Return one number for each column.

    Parameters
    ----------
    name : str
        What they are called in the message.
    values : float or array_like, shape (n_columns,)
        As given. [unit]
    n_columns : int
        How many there have to be. [-]

    Returns
    -------
    ndarray, shape (n_columns,)
        The numbers. [unit]

    Raises
    ------
    ValueError
        If there are too few or too many, or one is missing.

    Examples
    --------
    >>> column_values("prior_scale", 0.75, 2)
    array([0.75, 0.75])
    """
    given = np.asarray(values, dtype=np.float64)
    if given.shape not in {(), (n_columns,)} or np.isnan(given).any():
        raise ValueError(f"{name} is one number, or one for each of the {n_columns} columns")
    return np.array(np.broadcast_to(given, n_columns))


def row_values(name: str, values: ArrayLike | None, n_rows: int) -> Floats:
    """Return one number for each row.

    Parameters
    ----------
    name : str
        What they are called in the message.
    values : float or array_like, shape (n_rows,), or None
        As given; None for 1. [unit]
    n_rows : int
        How many there have to be. [-]

    Returns
    -------
    ndarray, shape (n_rows,)
        The numbers. [unit]

    Raises
    ------
    ValueError
        If there are too few or too many, or one is missing, infinite or below 0.

    Examples
    --------
    >>> row_values("exposure", None, 2)
    array([1., 1.])
    """
    if values is None:
        return np.ones(n_rows)
    if np.ndim(values) == 0:
        values = np.full(n_rows, values)
    given: Floats = check_array(values, ensure_2d=False, dtype=np.float64, input_name=name)
    if given.shape != (n_rows,) or (given < 0).any():
        raise ValueError(f"{name} is one number, or one for each of {n_rows} rows, not below 0")
    return given


def group_numbers(groups: ArrayLike, n_rows: int) -> NDArray[np.int64]:
    """Return numbers of the groups, in order of appearance; a missing name is a group of its own.

    Parameters
    ----------
    groups : array_like, shape (n_rows,)
        Name of each row's group.
    n_rows : int
        How many there have to be. [-]

    Returns
    -------
    ndarray of int, shape (n_rows,)
        From 0. [-]

    Raises
    ------
    ValueError
        If there are too few or too many.

    Examples
    --------
    >>> group_numbers(["east", "west", "east"], 3)
    array([0, 1, 0])
    """
    numbers, _ = pd.factorize(np.asarray(groups), use_na_sentinel=False)
    if len(numbers) != n_rows:
        raise ValueError(f"groups are one for each of {n_rows} rows")
    return np.asarray(numbers, dtype=np.int64)
