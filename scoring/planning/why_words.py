"""Say why work is in a plan, or why it is not, in words and numbers."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.events import MODE_WORDS, MODES
from scoring.contract.rework import actions_said, actions_that_are_said

Words = NDArray[np.object_]

LEAST_SAID = 0.001
"""Of a failure less likely than this, before and after, nothing is said. Ours. [-]"""


def why_chosen(bundles: pd.DataFrame, reasons: Words, first: Words) -> Words:
    """Say why work is done.

    Parameters
    ----------
    bundles : DataFrame, shape (n_bundles, ...)
        As weighed.
    reasons, first : ndarray of str, shape (n_bundles,)
        What was found at each unit, and what its ranking says to do first.

    Returns
    -------
    ndarray of str, shape (n_bundles,)
    """
    hold = np.where(bundles["clears_hold"], "lifts the hold; ", "")
    found = np.where(reasons == "", "", np.char.add("; found: ", reasons.astype(str)))
    return _joined(hold, _avoids(bundles), _chances(bundles), found, _left(bundles, first))


def _left(bundles: pd.DataFrame, first: Words) -> Words:
    """Name what the ranking says to do first, where it is left for later."""
    asked = pd.Series(first, dtype=object).str.split(":", n=1).str[0].to_numpy(dtype=object)
    code, pairs = pd.factorize(asked + "/" + bundles["actions"].to_numpy(dtype=object))
    words = []
    for one, done in (str(pair).split("/") for pair in pairs):
        left = [name for name in actions_that_are_said(one) if name not in done.split(";")]
        said = actions_said(";".join(left))
        words.append(f"; leaves what the ranking names first: {said}" if left else "")
    of_each: Words = np.array([*words, ""], dtype=object)[code]
    return of_each


def why_not(bundles: pd.DataFrame, unfit: Words, planned: NDArray[np.bool_], least: float) -> Words:
    """Say why work is not done.

    Parameters
    ----------
    bundles : DataFrame, shape (n_bundles, ...)
        As weighed.
    unfit : ndarray of str, shape (n_bundles,)
        Why it fits into no window; empty where it does.
    planned : ndarray of bool, shape (n_bundles,)
        Whether other work is done at the unit.
    least : float
        What the least of the chosen work avoids an hour; missing where there is none.
        [currency/h]

    Returns
    -------
    ndarray of str, shape (n_bundles,)
    """
    an_hour = (bundles["loss_avoided"] / bundles["hours"]).to_numpy()
    better = np.full(len(bundles), "the hours do more elsewhere", dtype=object)
    if np.isfinite(least):
        close = an_hour >= least
        better[:] = f"the hours do more elsewhere: {least:,.0f} an hour or more"
        better[close] = "it no longer fits into the hours left"
    words = np.where(planned, "another set of work is done at the unit", better)
    words = np.where(unfit == "", words, unfit)
    return _joined(words, np.full(len(bundles), "; "), _avoids(bundles))


def _avoids(bundles: pd.DataFrame) -> Words:
    """Write what work avoids, of how much, and by the hour."""
    avoided, stands = bundles["loss_avoided"], bundles["standing_loss"]
    loss = bundles["expected_loss"].where(stands <= 0, stands)
    currency = bundles["currency"].astype(object)
    code = np.where(currency.notna(), " " + currency.fillna(""), "")
    by_hour = _written(avoided / bundles["hours"], "{:,.0f}")
    still = np.where(stands > 0, " that standing still costs", "").astype(object)
    of_all = _written(loss, "{:,.0f}") + code + still
    words: Words = (
        "avoids " + _written(avoided, "{:,.0f}") + " of " + of_all + ", " + by_hour + " an hour"
    )
    return words


def _written(values: "pd.Series[float]", form: str) -> Words:
    words: Words = values.map(form.format).to_numpy(dtype=object)
    return words


def _chances(bundles: pd.DataFrame) -> Words:
    """Write how the chance of each failure changes."""
    words = np.full(len(bundles), "", dtype=object)
    for mode in MODES:
        both = bundles[[f"p_{mode}", f"p_{mode}_after"]]
        before, after = (_written(both[name], "{:.1%}") for name in both)
        said = f"; {MODE_WORDS[mode]} " + before + " -> " + after
        words = words + np.where((both < LEAST_SAID).all(axis=1), "", said)
    return words


def _joined(*parts: Words) -> Words:
    joined = np.full(len(parts[0]), "", dtype=object)
    for part in parts:
        joined = joined + part.astype(object)
    return joined
