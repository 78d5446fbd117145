"""The one guard against quantities for which a formula does not hold."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from scoring.errors import OutOfRangeError

Floats = NDArray[np.float64]
"""What every formula here takes apart and gives back."""


def positive(name: str, values: ArrayLike, unit: str) -> Floats:
    """Return the values as an array of floats if all of them are above zero.

    A missing value (NaN) passes: what is not known stays not known through every formula.

    Parameters
    ----------
    name : str
        What the quantity is called in the message. [-]
    values : array_like
        Any shape. [unit]
    unit : str
        Unit for the message. [-]

    Returns
    -------
    numpy.ndarray
        The same values. [unit]

    Raises
    ------
    OutOfRangeError
        If a value is infinite, zero or negative; the first such value is named.

    Examples
    --------
    >>> positive("shaft diameter", [0.05, float("nan")], "m")
    array([0.05,  nan])
    >>> positive("shaft diameter", [0.05, -0.01], "m")
    Traceback (most recent call last):
    scoring.errors.OutOfRangeError: shaft diameter is -0.01 m; this formula holds for values above 0
    """
    checked = _finite(name, values, unit)
    require(name, checked, ~(checked <= 0), unit, "values above 0")
    return checked


def not_negative(name: str, values: ArrayLike, unit: str) -> Floats:
    """Return the values as an array of floats if none of them is below zero; NaN passes.

    Parameters
    ----------
    name : str
        What the quantity is called in the message. [-]
    values : array_like
        Any shape. [unit]
    unit : str
        Unit for the message. [-]

    Returns
    -------
    numpy.ndarray
        The same values. [unit]

    Raises
    ------
    OutOfRangeError
        If a value is infinite or negative; the first such value is named.

    Examples
    --------
    >>> not_negative("clearance", 0, "m")
    array(0.)
    """
    checked = _finite(name, values, unit)
    require(name, checked, ~(checked < 0), unit, "values of at least 0")
    return checked


def between(name: str, values: ArrayLike, unit: str, low: float, high: float) -> Floats:
    """Return the values as an array of floats if all lie from ``low`` to ``high``; NaN passes.

    Parameters
    ----------
    name : str
        What the quantity is called in the message. [-]
    values : array_like
        Any shape. [unit]
    unit : str
        Unit for the message. [-]
    low, high : float
        Closed limits; either may be infinite, a value may not. [unit]

    Returns
    -------
    numpy.ndarray
        The same values. [unit]

    Raises
    ------
    OutOfRangeError
        If a value is infinite or outside the limits; the first such value is named.

    Examples
    --------
    >>> between("water in oil", 30, "ppm", 25, 400)
    array(30.)
    """
    checked = _finite(name, values, unit)
    inside = ~((checked < low) | (checked > high))
    require(name, checked, inside, unit, f"values from {low:g} to {high:g}")
    return checked


def require(name: str, values: Floats, holds: ArrayLike, unit: str, allowed: str) -> None:
    """Refuse values for which a relation, also one between several quantities, does not hold.

    Parameters
    ----------
    name : str
        What the quantity is called in the message. [-]
    values : numpy.ndarray
        Any shape. [unit]
    holds : array_like of bool
        Where the relation holds; broadcasts. A comparison with a missing value is false, so
        give the relation by what breaks it, as in ``~(hub <= shaft)``. [-]
    unit : str
        Unit for the message. [-]
    allowed : str
        The relation in words. [-]

    Returns
    -------
    None
        Nothing; it raises or it does not. [-]

    Raises
    ------
    OutOfRangeError
        If the relation fails anywhere; the first such value is named.

    Examples
    --------
    >>> hub = np.array([0.10, np.nan])
    >>> require("hub outside", hub, ~(hub <= 0.08), "m", "a hub larger than its bore")
    """
    if not np.all(holds):
        spread, holding = np.broadcast_arrays(values, np.asarray(holds, dtype=np.bool_))
        raise OutOfRangeError(name, float(spread[~holding].flat[0]), unit, allowed)


def _finite(name: str, values: ArrayLike, unit: str) -> Floats:
    checked: Floats = np.asarray(values, dtype=np.float64)
    require(name, checked, ~np.isinf(checked), unit, "finite values")
    return checked
