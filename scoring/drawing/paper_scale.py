"""Scales of drawings: the largest usual one at which something fits."""

from collections.abc import Callable, Iterator

_USUAL = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)


def _scales(largest: float) -> Iterator[float]:
    """Return from large to small how many millimetres stand for one on the paper."""
    for power in range(-1, 9):
        for usual in _USUAL:
            if usual * 10.0**power >= 1.0 / largest - 1e-9:
                yield usual * 10.0**power


def largest_scale(fits: Callable[[float], bool], largest: float = 1.0) -> float:
    """Return the largest usual scale at which something fits.

    Parameters
    ----------
    fits : callable
        Tells whether it fits at a scale [mm of paper over mm].
    largest : float
        No larger scale is taken. [-]

    Returns
    -------
    float
        Millimetres of paper for one of the machine; the smallest there is if nothing fits. [-]

    Examples
    --------
    >>> largest_scale(lambda scale: 480 * scale < 70)
    0.125
    """
    one = 1.0
    for one in _scales(largest):
        if fits(1.0 / one):
            return 1.0 / one
    return 1.0 / one


def scale_words(scale: float) -> str:
    """Write a scale.

    Examples
    --------
    >>> scale_words(0.125), scale_words(2.0)
    ('1:8', '2:1')
    """
    return f"{scale:.3g}:1" if scale > 1.0 + 1e-9 else f"1:{1.0 / scale:.4g}"
