"""Sites and crews: how often their installations are right, beside what luck alone makes."""

import numpy as np
import pandas as pd

from scoring.trends.funnel import funnel

NOT_WRITTEN_DOWN = "not written down"
"""Stands for whoever hung the units of which nobody wrote it down."""


def funnels_of(installations: pd.DataFrame) -> dict[str, pd.DataFrame]:
    """Hold sites and crews against what luck alone makes of them.

    Parameters
    ----------
    installations : DataFrame
        From ``first_time_right``.

    Returns
    -------
    dict of str to DataFrame
        From ``funnel``, by ``site`` and by ``installer``.
    """
    of_groups = {by: counted(installations, by) for by in ("site", "installer")}
    return {by: funnel(table["good"], table["of"]) for by, table in of_groups.items()}


def counted(installations: pd.DataFrame, by: str) -> pd.DataFrame:
    """Return how many judged installations each site or crew has, and how many were right."""
    judged = installations[installations["judged"]]
    names = judged[by].where(judged[by].notna(), NOT_WRITTEN_DOWN)
    by_name = judged["right"].groupby(names)
    return pd.DataFrame({"good": by_name.sum(), "of": by_name.size()}).astype(np.int64)
