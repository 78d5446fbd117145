"""Whether it gets better, in sentences made of numbers and their uncertainty."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from scoring.contract.amounts_in_words import MINUS, after_amount, rounded, thousands
from scoring.trends.change_with_interval import (
    CANNOT_BE_TOLD,
    change_of_shares,
    paired_change,
    share_with_interval,
)
from scoring.trends.funnel import ABOVE, BELOW
from scoring.trends.month_ends import AGE_EDGES_DAYS, AGE_LABELS, StateAtMonthEnd
from scoring.trends.open_holds import held_since

YEAR_DAYS = 365


@dataclass(frozen=True)
class Sentence:
    """A sentence: what it says first, in strong letters, and the rest."""

    verdict: str
    rest: str


def share_said(share: float) -> str:
    """Write a share without decimals.

    Examples
    --------
    >>> share_said(0.648)
    '65 %'
    """
    return f"{100 * share:.0f} %"


def money_sentence(units: pd.DataFrame, currency: object, span: str = "a year") -> Sentence | None:
    """Say what is expected to be lost of a unit, and whether that changed.

    Parameters
    ----------
    units : DataFrame
        From ``then_and_now``.
    currency : object
        Its code; anything but a text is left out.
    span : str
        So far ahead the loss reaches.
    """
    now = units["loss_now"].to_numpy(np.float64)
    change = paired_change(now, units["loss_before"].to_numpy(np.float64))
    if not math.isfinite(change.now):
        return None
    code = after_amount(currency)
    level = f"{rounded(float(np.nansum(now)))}{code} expected to be lost within {span}, "
    level += f"{rounded(change.now)} a unit"
    if not math.isfinite(change.low):
        return Sentence(_first(CANNOT_BE_TOLD), f"{level}; a year ago no unit was in service.")
    return Sentence(
        _first(change.less_is),
        f"{level}; a year ago {rounded(change.before)} a unit. Change {rounded(change.by)}, "
        f"90 % interval {rounded(change.low)} to {rounded(change.high)} a unit.",
    )


def holds_sentence(
    units: pd.DataFrame, states: Sequence[StateAtMonthEnd], told: int | None
) -> Sentence | None:
    """Say how many units are on hold, whether that changed, for how long, and who was told.

    Parameters
    ----------
    units : DataFrame
        From ``then_and_now``.
    states : sequence of StateAtMonthEnd
        The newest first; ages are said only with what they tell.
    told : int, optional
        Of how many it is on record that somebody was told; None where that is not recorded.
    """
    change = paired_change(
        units["held_now"].to_numpy(np.float64), units["held_before"].to_numpy(np.float64)
    )
    if not math.isfinite(change.now):
        return None
    now, before = (units[name] for name in ("held_now", "held_before"))
    said = f"{now.sum():.0f} of {thousands(now.count())} units must not run"
    if math.isfinite(change.low):
        said += f", a year ago {before.sum():.0f} of {thousands(before.count())}"
    if len(states) > 1:
        counts = [len(state.held) for state in states]
        first = states[-1].day
        said += f"; {min(counts)} to {max(counts)} at each month's end since {first:%B %Y}"
    if states and now.sum():
        held = held_since(states)
        days = held.loc[held["month_end"] == states[0].day, "days"]
        over = [int((days > edge).sum()) for edge in AGE_EDGES_DAYS]
        said += (
            f". On hold for more than {AGE_EDGES_DAYS[1]} days: {over[1]}; "
            f"for more than {AGE_EDGES_DAYS[0]}: {over[0]}"
        )
    if now.sum():
        said += (
            "; who was told is not on record in files"
            if told is None
            else f"; of {told} it is on record who was told"
        )
    return Sentence(_first(change.less_is), f"{said}.")


def holds_title(by_age: pd.DataFrame) -> str:
    """Say what the picture of open holds shows.

    Parameters
    ----------
    by_age : DataFrame
        From ``holds_by_age``.
    """
    now = by_age[by_age["month_end"] == by_age["month_end"].max()].set_index("age")["holds"]
    over = int(now[AGE_LABELS[-1]])
    if not now.sum():
        return "No unit must not run"
    return f"Of {int(now.sum())} units that must not run {over} have stood so for {AGE_LABELS[-1]}"


def first_time_right_sentence(installations: pd.DataFrame, as_of: pd.Timestamp) -> Sentence | None:
    """Say how many of the installations of a year were right, and of the year before.

    Parameters
    ----------
    installations : DataFrame
        From ``first_time_right``.
    as_of : Timestamp
        The day up to which it was known.
    """
    ago = (as_of.normalize() - installations["hung_on"]).dt.days
    year, before = (
        installations[(ago >= k * YEAR_DAYS) & (ago < (k + 1) * YEAR_DAYS)] for k in (0, 1)
    )
    counts = [(int(t["right"].sum()), int(t["judged"].sum())) for t in (year, before)]
    (right, judged), (right_before, judged_before) = counts
    if judged == 0:
        if len(year) == 0:
            return None
        rest = f"none of {len(year)} units hung in the last year had every critical check seen."
        return Sentence(_first(CANNOT_BE_TOLD), rest)
    share, low, high = (
        float(one[0]) for one in share_with_interval(np.array([right]), np.array([judged]))
    )
    said = (
        f"of {thousands(judged)} installations of the last year whose first complete walkdown is "
        f"on record ({thousands(len(year))} were hung) {right} had no critical fault, "
        f"{share_said(share)} ({100 * low:.0f} to {share_said(high)})"
    )
    if judged_before == 0:
        return Sentence(_first(CANNOT_BE_TOLD), f"{said}; of the year before none is on record.")
    change = change_of_shares(*counts)
    said += f"; in the year before {right_before} of {judged_before}, {share_said(change.before)}. "
    said += (
        f"Change {_points(change.by)}, 90 % interval {_points(change.low)} to "
        f"{_points(change.high)} percentage points."
    )
    return Sentence(_first(change.more_is), said)


def groups_sentence(sites: pd.DataFrame, crews: pd.DataFrame) -> Sentence | None:
    """Name sites and crews whose installations differ from the rest by more than luck.

    Parameters
    ----------
    sites, crews : DataFrame
        From ``funnel``.
    """
    if max(len(sites), len(crews)) < 2:  # one has nobody to be compared with
        return None
    parts = []
    for stands, word in ((ABOVE, "more often right"), (BELOW, "less often right")):
        named = [str(n) for t in (sites, crews) for n in t.index[t["stands"] == stands]]
        if named:
            parts.append(f"{word} than the rest: {', '.join(named)}")
    if not parts:
        return Sentence("Sites and crews", "no site and no crew differs by more than luck makes.")
    return Sentence(
        "Sites and crews",
        f"{'; '.join(parts)}. The others differ by no more than luck makes.",
    )


def rework_sentence(costs: pd.DataFrame, as_of: pd.Timestamp, currency: object) -> Sentence | None:
    """Say what the re-work of a year cost and how much loss it removed.

    Parameters
    ----------
    costs : DataFrame
        From ``cost_of_rework``.
    as_of : Timestamp
        The day.
    currency : object
        Its code; anything but a text is left out.
    """
    ago = (as_of.normalize() - costs["done_on"].dt.normalize()).dt.days
    ahead = costs[(ago >= 0) & (ago < YEAR_DAYS) & ~costs["after_failure"]]
    if ahead.empty:
        return None
    code = after_amount(currency)
    cost = float((ahead["labour"] + ahead["parts"]).sum())
    hours = float(ahead["hours"].sum())
    return Sentence(
        "Re-work",
        f"{thousands(len(ahead))} jobs before a failure in the last year cost about {rounded(cost)}"
        f"{code} ({rounded(hours)} hours, of {int(ahead['hours_assumed'].sum())} jobs assumed; the "
        f"hour and the parts at assumed prices) and removed {rounded(ahead['loss_removed'].sum())}"
        f"{code} of the loss expected within the year after them.",
    )


def unseen_sentence(checks: pd.DataFrame) -> Sentence | None:
    """Say which critical check is looked at least.

    Parameters
    ----------
    checks : DataFrame
        From ``never_looked_at``.
    """
    if checks.empty:
        return None
    share = checks["never_seen"] / checks["units"]
    worst = checks.iloc[int(share.to_numpy().argmax())]
    late = checks.iloc[int(checks["overdue"].to_numpy().argmax())]
    said = (
        f"{worst['check']} was not seen at {thousands(worst['never_seen'])} of "
        f"{thousands(worst['units'])} units since they were hung"
    )
    if late["overdue"]:
        of_units = thousands(late["units"])
        said += f"; {late['check']} is overdue at {thousands(late['overdue'])} of {of_units}"
    return Sentence("Not looked at", f"{said}.")


def _first(verdict: str) -> str:
    return verdict.capitalize()


def _points(share: float) -> str:
    points = round(100 * share)
    return f"{MINUS if points < 0 else '+' if points > 0 else ''}{abs(points)}"
