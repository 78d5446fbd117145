"""Numbers as a calculation sheet prints them: so many digits, and no more marks than they need."""

from math import floor, isnan, log10

RESULT_DIGITS = 5
"""Digits of a result. Ours."""

INPUT_DIGITS = 7
"""Digits of an input: more, so that who reckons again comes to the digits of the result. Ours."""

SMALLEST, LARGEST = 1e-4, 1e7
"""Beyond these a number is written with a power of ten. Ours."""

_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def result_printed(value: float, unit: str = "") -> str:
    """Write a result with its unit.

    Examples
    --------
    >>> result_printed(4584.26, "N"), result_printed(1.0), result_printed(3.278e-7)
    ('4584.3 N', '1.0000', '3.2780×10⁻⁷')
    >>> result_printed(float("nan"), "N")
    'not known'
    """
    return "not known" if isnan(value) else f"{_digits(value, RESULT_DIGITS)} {unit}".rstrip()


def input_printed(value: float | str, unit: str = "") -> str:
    """Write an input with its unit, without zeros at its end.

    Examples
    --------
    >>> input_printed(600.0, "mm"), input_printed(1 / 3), input_printed("loose")
    ('600 mm', '0.3333333', 'loose')
    >>> input_printed(6.5e-9)
    '6.5×10⁻⁹'
    """
    if isinstance(value, str):
        return f"{value} {unit}".rstrip()
    if isnan(value):
        return "not known"
    number, times, power = _digits(value, INPUT_DIGITS).partition("×")
    number = number.rstrip("0").rstrip(".") if "." in number else number
    return f"{number}{times}{power} {unit}".rstrip()


def _digits(value: float, digits: int) -> str:
    if value == 0:
        return "0"
    if SMALLEST <= abs(value) < LARGEST:
        places = digits - 1 - floor(log10(abs(value)))
        return f"{value:.{max(places, 0)}f}"
    number, power = f"{value:.{digits - 1}e}".split("e")
    return f"{number}×10{str(int(power)).translate(_RAISED)}"
