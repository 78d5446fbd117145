"""Findings that a named engineer accepts as they are, with a reason and until a date.

An acceptance covers the finding as it was known on the day it was accepted: it lapses when its
date has passed, when the unit is hung anew, and when the check is found worse.
"""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.timeline import Timeline
from scoring.timeline.known import Known


def accepted_findings(
    timeline: Timeline, known: Known, findings: pd.DataFrame
) -> NDArray[np.object_]:
    """Say for each finding by whom it is accepted; empty where it is not.

    Parameters
    ----------
    timeline : Timeline
        The records.
    known : Known
        What was known of the units in service.
    findings : DataFrame, shape (n_findings, ...)
        With ``unit``, ``check`` and ``exceedance``.

    Returns
    -------
    ndarray of str, shape (n_findings,)
    """
    words = np.full(len(findings), "", dtype=object)
    valid = _valid(timeline, known)
    if valid.empty:
        return words
    valid["worst_then"] = _worst_by_then(timeline, valid)
    keys = findings[["unit_id", "check", "exceedance"]].reset_index(names="place")
    hung_on = known.history["hung_on"].to_numpy()[findings["unit"].to_numpy(dtype=np.int64)]
    keys["hung_on"] = hung_on.astype("datetime64[s]")
    hits = keys.merge(valid, on=["unit_id", "check"])
    not_hung_anew = hits["accepted_on"].dt.normalize() >= hits["hung_on"].dt.normalize()
    hits = hits[not_hung_anew & (hits["exceedance"] <= hits["worst_then"])]
    hits = hits.sort_values("until_on").drop_duplicates("place", keep="last")
    said = (
        "accepted by "
        + hits["accepted_by"].astype(object)
        + " until "
        + hits["until_on"].dt.strftime("%Y-%m-%d").astype(object)
        + ": "
        + hits["reason"].astype(object)
    )
    words[hits["place"].to_numpy()] = said.to_numpy(dtype=object)
    return words


def _valid(timeline: Timeline, known: Known) -> pd.DataFrame:
    """Return acceptances that have begun and are not over."""
    accepted = timeline.fleet.accepted
    begun = accepted["accepted_on"].dt.normalize() <= known.as_of
    in_force = begun & (accepted["until_on"].dt.normalize() >= known.as_of)
    valid: pd.DataFrame = accepted[in_force].reset_index(drop=True)
    return valid.assign(check=valid["check"].astype(object))


def _worst_by_then(timeline: Timeline, valid: pd.DataFrame) -> NDArray[np.float64]:
    """Return how bad the check had been found by the day of each acceptance."""
    place = pd.Index(timeline.fleet.units["unit_id"]).get_indexer(pd.Index(valid["unit_id"]))
    worst = np.zeros(len(valid))
    until, checks = valid["accepted_on"].to_numpy(), valid["check"].to_numpy(dtype=object)
    for check in valid["check"].unique():
        here = np.flatnonzero(checks == check)
        looks = timeline.looks[check]  # sorted by unit
        begin, end = (np.searchsorted(looks.unit, place[here], side) for side in ("left", "right"))
        asked = np.repeat(here, end - begin)
        ahead = np.repeat(begin - np.append(0, np.cumsum(end - begin)[:-1]), end - begin)
        seen = np.arange(len(asked)) + ahead
        by_then = looks.known_from[seen] <= until[asked]
        np.maximum.at(worst, asked[by_then], looks.exceedance[seen[by_then]])
    return worst
