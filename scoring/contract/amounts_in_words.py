"""How amounts that are known roughly are written."""

import math

NARROW_SPACE = "\u202f"
"""Marks thousands; a line never breaks there."""

MINUS = "\u2212"
DIGITS = 2
"""Digits of an amount that is known roughly; ours."""

LEAST_SHOWN = 0.1
"""A smaller chance is only said to be smaller. Ours. [%]"""


def thousands(value: float) -> str:
    """Write a whole number with its thousands marked.

    Examples
    --------
    >>> thousands(1828).replace(NARROW_SPACE, "_"), thousands(999.6).replace(NARROW_SPACE, "_")
    ('1_828', '1_000')
    """
    return f"{value:,.0f}".replace(",", NARROW_SPACE)


def rounded(value: float) -> str:
    """Write an amount with two digits that count.

    Examples
    --------
    >>> rounded(86_585.0).replace(NARROW_SPACE, "_"), rounded(-7.13), rounded(0.0)
    ('87_000', '\N{MINUS SIGN}7.1', '0')
    """
    if not math.isfinite(value):
        return "not known"
    if value == 0:
        return "0"
    places = DIGITS - 1 - math.floor(math.log10(abs(value)))
    near = round(value, places)
    text = f"{abs(near):,.{max(places, 0)}f}".replace(",", NARROW_SPACE)
    return f"{MINUS if near < 0 else ''}{text}"


def after_amount(currency: object) -> str:
    """Return what stands after an amount; nothing where the currency is not known.

    Examples
    --------
    >>> after_amount("AUD"), after_amount(None)
    (' AUD', '')
    """
    return f" {currency}" if isinstance(currency, str) else ""


def percent(share: float) -> str:
    """Write a chance as a percentage with the digits it deserves.

    Examples
    --------
    >>> percent(0.0612), percent(0.004), percent(1.0), percent(0.0002)
    ('6.1 %', '0.4 %', '100 %', '<0.1 %')
    >>> percent(0.0)
    '0 %'
    """
    value = 100 * share
    if value == 0:
        return "0 %"
    if 0 < value < LEAST_SHOWN:
        return f"<{LEAST_SHOWN} %"
    return f"{value:.0f} %" if value >= 9.95 else f"{value:.1f} %"


_SPANS = {365: "a year", 730: "two years"}


def span_said(days: int) -> str:
    """Say how far chances and losses reach.

    Examples
    --------
    >>> span_said(365), span_said(730), span_said(90)
    ('a year', 'two years', '90 days')
    """
    return _SPANS.get(days, f"{days} days")
