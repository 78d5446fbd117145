"""From when on a symptom counts, and when it is forgotten."""

import numpy as np
from numpy.typing import NDArray

from scoring.timeline.check_state import SYMPTOM_MONTHS

Days = NDArray[np.datetime64]


def counts_from(day: Days, known_from: Days, lag_days: int) -> Days:
    """Return the day by whose end a symptom counts.

    Parameters
    ----------
    day : ndarray of datetime64[D]
        When it was seen.
    known_from : ndarray of datetime64[D]
        From when on that is known.
    lag_days : int
        For how long it may not be used. [d]
    """
    later: Days = np.maximum(known_from, day + np.timedelta64(lag_days, "D"))
    return later


def forgotten_from(day: Days) -> Days:
    """Return the first day by whose end a symptom is forgotten.

    Parameters
    ----------
    day : ndarray of datetime64[D]
        When it was seen.

    Examples
    --------
    A look on the last of February still counts on the leap day a year later.

    >>> days = np.array(["2023-02-28", "2024-02-28", "2024-02-29", "2024-05-31"], dtype="M8[D]")
    >>> forgotten_from(days).astype(str).tolist()
    ['2024-03-01', '2025-03-01', '2025-03-01', '2025-06-01']
    """
    after = day + np.timedelta64(1, "D")
    month = after.astype("datetime64[M]")
    gone: Days = (month + SYMPTOM_MONTHS).astype("datetime64[D]") + (
        after - month.astype("datetime64[D]")
    )
    return gone
