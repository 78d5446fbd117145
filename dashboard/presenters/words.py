"""How numbers and names are said on a page."""

import datetime as dt
import math

from scoring.contract import CHECK_BY_NAME
from scoring.contract.amounts_in_words import after_amount, percent
from scoring.contract.rework import actions_that_are_said
from scoring.contract.verdict_words import VERDICT_MEANS, verdict_said
from scoring.language.markup import escaped_markdown

VERDICT_WORDS = {
    "hold": "■ hold",
    "correct": "▲ correct",
    "watch": "○ watch",
    "no_finding": "· no finding",
}
"""A verdict is a word with a shape; colour never stands alone."""


def verdict_shown(verdict: str) -> str:
    """Say a verdict with its shape and what it means.

    Examples
    --------
    >>> verdict_shown("hold"), verdict_shown("")
    ('■ hold: must not run', 'not in service')
    """
    if not verdict:
        return verdict_said(verdict)
    return f"{VERDICT_WORDS[verdict]}: {VERDICT_MEANS[verdict]}"


def first_action_said(first_action: object) -> str:
    """Say how to do what is to be done first, without the names of the actions before it.

    Examples
    --------
    >>> first_action_said("fit guard; true shaft: fit the guard; true the shaft")
    'fit the guard; true the shaft'
    >>> first_action_said("look at: output seal"), first_action_said(float("nan"))
    ('look at: output seal', '')
    """
    if not isinstance(first_action, str):
        return ""
    names, _, words = first_action.partition(": ")
    return words if actions_that_are_said(names) else first_action


def plain(text: str) -> str:
    r"""Write text so that a page shows it as it is, whatever is in it.

    Examples
    --------
    >>> plain("U_1 ![x](y)")
    'U\\_1 \\!\\[x\\]\\(y\\)'
    """
    return escaped_markdown(text).replace("\n", " ")


def plain_lines(text: str) -> str:
    r"""Write lines of text as they are, one below the other, blank ones left out.

    Examples
    --------
    >>> plain_lines("\n  row 1: *a*\n  row 2")
    'row 1\\: \\*a\\*  \nrow 2'
    """
    return "  \n".join(plain(line.strip()) for line in text.splitlines() if line.strip())


def chance(middle: float, low: float, high: float) -> str:
    """Write a chance with its 90 % interval.

    Examples
    --------
    >>> chance(0.061, 0.012, 0.279)
    '6.1 % (1.2 to 28)'
    """
    if low == high == 1:
        return "100 %, it stands now"
    return f"{percent(middle)} ({percent(low)[:-2]} to {percent(high)[:-2]})"


def money(value: float, currency: object) -> str:
    """Write an amount short.

    Examples
    --------
    >>> money(7541.0, "AUD"), money(1_234_000.0, None)
    ('7,541 AUD', '1.23 M')
    """
    unit = after_amount(currency)
    if not math.isfinite(value):
        return "not known"
    return f"{value / 1e6:.2f} M{unit}" if value >= 1e6 else f"{value:,.0f}{unit}"


def in_currency(title: str, currency: object) -> str:
    """Say in what an amount is counted, where that is known.

    Examples
    --------
    >>> in_currency("loss avoided", "AUD"), in_currency("loss avoided", None)
    ('loss avoided, AUD', 'loss avoided')
    """
    return f"{title}, {currency}" if isinstance(currency, str) else title


def day_said(day: dt.date) -> str:
    """Say a day.

    Examples
    --------
    >>> day_said(dt.date(2026, 6, 30))
    '30 June 2026'
    """
    return f"{day.day} {day:%B %Y}"


def checks_said(names: str) -> str:
    """Say checks by their labels.

    Examples
    --------
    >>> checks_said("seal_weep;breather")
    'output seal; breather'
    """
    return "; ".join(CHECK_BY_NAME[name].label for name in names.split(";"))
