"""How many of the failures that came were at the worst of the units, as they were put in order."""

import numpy as np
import pandas as pd

WORST_SHARE = 0.2
"""Share of the units that are called the worst; ours. [-]"""


def failures_among_worst(predicted: pd.DataFrame, by: str) -> float:
    """Count the failures among the worst fifth of units.

    Parameters
    ----------
    predicted : DataFrame
        Units of one day and one failure, from ``predictions``: ``failed`` and what orders them.
    by : str
        The column that orders them, the greatest worst.

    Returns
    -------
    float
        Where units that are alike stand across the line, each counts by the share of them that is
        taken in, so it need not be whole.

    Examples
    --------
    >>> table = pd.DataFrame({"failed": [True, True, False, False, True], "n": [2, 1, 1, 0, 0]})
    >>> failures_among_worst(table, "n"), failures_among_worst(pd.concat([table, table]), "n")
    (1.0, 2.0)
    """
    room = WORST_SHARE * len(predicted)
    alike = predicted.groupby(by)["failed"].agg(["size", "sum"]).sort_index(ascending=False)
    before = alike["size"].cumsum() - alike["size"]
    taken = np.clip((room - before) / alike["size"], 0, 1)
    return float((alike["sum"] * taken).sum())
