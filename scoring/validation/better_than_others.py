"""Whether ours orders a fleet's units better than what a plant could do without it."""

from collections.abc import Hashable, Mapping
from typing import Any

import pandas as pd

from scoring.contract.events import MODE_WORDS
from scoring.validation.choose_basis import Basis
from scoring.validation.predictions import COUNT, REGRESSION
from scoring.validation.which_is_better import STANDARD_ERRORS, gain_in_concordance

OTHERS = {COUNT: "counting findings", REGRESSION: "a plain regression"}
"""What a plant could do instead."""

LEAST_TO_TELL = 10
"""Failures below which nothing is said; planning value of ours."""

OF_CASES = 100
"""Orders are told as so many cases of a hundred."""

COMPARED = (
    "failure_mode",
    "failures",
    "ours",
    "other",
    "order_ours",
    "order_other",
    "lead",
    "error",
)


def compare(table: pd.DataFrame, orders: pd.DataFrame, basis: Mapping[str, Basis]) -> pd.DataFrame:
    """Hold ours against each of the others, tried on later failures of the same units.

    Parameters
    ----------
    table : DataFrame
        What was predicted of the same units, from ``predict_in_schemes``.
    orders : DataFrame
        Its scores, from ``scores_of``, of all failures.
    basis : mapping of str to Basis
        Which basis is ours for each failure.

    Returns
    -------
    DataFrame, shape (n_compared, 8)
        ``failure_mode``, ``failures``; ``ours``, the basis that is used; ``other``, one of
        ``OTHERS``; ``order_ours`` and ``order_other``, of two units how often the first to fail was
        predicted more; ``lead``, their difference, with its standard ``error``. [-]
    """
    found = []
    for mode, of_mode in table.groupby("failure_mode", sort=False):
        ours = basis[str(mode)].predicted_by
        order = orders[orders["failure_mode"] == mode].set_index("predicted_by")["harrell"]
        failures = int(of_mode["failed"].sum())
        for other in OTHERS:
            gain = gain_in_concordance(of_mode, before=other, after=ours)
            orders_of_both = (float(order[ours]), float(order[other]))
            values = (mode, failures, ours, other, *orders_of_both, gain.value, gain.error)
            found.append(dict(zip(COMPARED, values, strict=True)))
    return pd.DataFrame(found, columns=list(COMPARED))


def in_words(of_mode: pd.DataFrame) -> str:
    """Say whether ours is better than the others for one failure, and how sure that is.

    Parameters
    ----------
    of_mode : DataFrame
        From ``compare``, of one failure.

    Returns
    -------
    str

    Examples
    --------
    >>> from textwrap import fill
    >>> table = pd.DataFrame([
    ...     ("seal_leak", 41, "handbook", COUNT, 0.71, 0.60, 0.11, 0.045),
    ...     ("seal_leak", 41, "handbook", REGRESSION, 0.71, 0.66, 0.05, 0.045),
    ... ], columns=list(COMPARED))
    >>> print(fill(in_words(table), 88))
    Of two units of which one failed, ours put the failing one first in 71 of 100 cases,
    counting findings in 60, a plain regression in 66. 41 failures: ours leads counting
    findings by 11.0 cases, which is proved, for chance explains only 9.0; ours leads a
    plain regression by 5.0 cases, which proves nothing, for chance explains 9.0.
    """
    first = of_mode.iloc[0]
    failures, mode = int(first["failures"]), MODE_WORDS[str(first["failure_mode"])]
    if failures < LEAST_TO_TELL or of_mode["error"].isna().any():
        names = " or ".join(OTHERS.values())
        return (
            f"This plant cannot tell yet whether ours is better than {names}: "
            f"{failures or 'no'} {mode}{'' if failures == 1 else 's'} came in the years on which "
            f"it was tried, and it takes {LEAST_TO_TELL}."
        )
    rows = of_mode.to_dict("records")
    others = ", ".join(f"{OTHERS[row['other']]} in {_cases(row['order_other'])}" for row in rows)
    return (
        f"Of two units of which one failed, ours put the failing one first in "
        f"{_cases(first['order_ours'])} of {OF_CASES} cases, {others}. "
        f"{failures} failures: {'; '.join(_proved(row) for row in rows)}."
    )


def _proved(row: Mapping[Hashable, Any]) -> str:
    """Say of one of the others what the difference proves, by the figures as they are shown."""
    other = OTHERS[row["other"]]
    lead = round(OF_CASES * row["lead"], 1)
    chance = round(OF_CASES * STANDARD_ERRORS * row["error"], 1)
    if lead == 0:
        return f"neither ours nor {other} leads"
    said = f"ours leads {other} by" if lead > 0 else f"{other} leads ours by"
    proved = f"is proved, for chance explains only {chance:.1f}"
    if abs(lead) <= chance:
        proved = f"proves nothing, for chance explains {chance:.1f}"
    return f"{said} {abs(lead):.1f} cases, which {proved}"


def _cases(order: float) -> str:
    return f"{OF_CASES * order:.0f}"
