"""Groups compared without blaming luck: a share against how many it rests on."""

import numpy as np
import pandas as pd

from scoring.trends.change_with_interval import SHARE_HELD

ABOVE, BELOW, WITHIN = "above", "below", "within"


def funnel(good: "pd.Series[int]", of: "pd.Series[int]") -> pd.DataFrame:
    """Hold the share of each group against what luck alone makes of a group of its size.

    Parameters
    ----------
    good, of : Series of int, by group
        How many were good, of how many.

    Returns
    -------
    DataFrame, by group
        ``good``, ``of``, ``share``, ``low`` and ``high``: limits of the share, ``stands``: above,
        below or within. Groups of none are left out.

    Notes
    -----
    Limits are of a binomial law with the share of all groups together; so wide that in 9 of 10
    fleets in which all groups are alike none lies outside: with ``k`` groups each is given
    ``1 - 0.9 ** (1 / k)`` (textbook). A limit is a count that is not outside.

    Examples
    --------
    >>> table = funnel(pd.Series({"a": 95, "b": 60}), pd.Series({"a": 100, "b": 100}))
    >>> table["stands"].tolist()
    ['above', 'below']
    """
    there = of > 0
    good, of = good[there], of[there]
    share = float(good.sum() / of.sum()) if len(of) else np.nan
    outside = 1 - SHARE_HELD ** (1 / max(len(of), 1))
    size = of.to_numpy()
    from scipy.stats import binom  # noqa: PLC0415 - half a second, which only a funnel may cost

    low = binom.ppf(outside / 2, size, share)
    high = binom.ppf(1 - outside / 2, size, share)
    counts = good.to_numpy()
    stands = np.select([counts > high, counts < low], [ABOVE, BELOW], WITHIN)
    return pd.DataFrame(
        {
            "good": counts,
            "of": size,
            "share": counts / size,
            "low": low / size,
            "high": high / size,
            "stands": stands.astype(object),
        },
        index=of.index,
    )
