"""A plant's own settings: one step a row, for one site or for all; a site's own word goes first."""

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.intake.faults import Faults

Floats = NDArray[np.float64]


def settings_of_sites(
    usual: Floats, steps: Sequence[str], said: pd.DataFrame, sites: Sequence[object]
) -> Floats:
    """Return the value of every step at each site.

    Parameters
    ----------
    usual : ndarray, shape (n_steps,)
        What holds where nothing is said.
    steps : sequence of str
        Names of the steps.
    said : DataFrame
        Columns ``site`` (missing: everywhere), ``step`` and ``value``.
    sites : list
        The sites.

    Returns
    -------
    ndarray, shape (n_sites, n_steps)

    Examples
    --------
    >>> said = pd.DataFrame({"site": [None, "b"], "step": "lift", "value": [2.0, 3.0]})
    >>> settings_of_sites(np.array([1.0, 1.0]), ["lift", "walk"], said, ["a", "b"]).tolist()
    [[2.0, 1.0], [3.0, 1.0]]
    """
    table = np.tile(usual, (len(sites), 1))
    step = pd.Index(steps).get_indexer(pd.Index(said["step"].astype(object)))
    place = pd.Index(list(sites), dtype=object).get_indexer(pd.Index(said["site"].astype(object)))
    everywhere, value = said["site"].isna().to_numpy(), said["value"].to_numpy(np.float64)
    table[:, step[everywhere]] = value[everywhere]
    own = ~everywhere & (place >= 0)
    table[place[own], step[own]] = value[own]
    return table


def find_odd_settings(
    frame: pd.DataFrame, step: str, sites: "pd.Series[str]", faults: Faults
) -> None:
    """Add a fault for each row of an unknown site, and for each step that stands twice there.

    Parameters
    ----------
    frame : DataFrame
        The settings as read.
    step : str
        The column that names the step.
    sites : Series of str
        Sites of the fleet.
    faults : Faults
        Collects what is wrong.
    """
    unknown = frame["site"].notna() & ~frame["site"].isin(sites.unique())
    known = ", ".join(sorted(map(str, sites.unique())))
    for row, site in zip(frame["row"][unknown], frame["site"][unknown], strict=True):
        faults.add_one(row, "site", site, "is no site of the fleet", f"blank, or one of {known}")
    twice = frame.duplicated(["site", step], keep="first") & frame[step].notna()
    for row, name in zip(frame["row"][twice], frame[step][twice], strict=True):
        faults.add_one(row, step, str(name), "stands twice for this site", "one row for each")
