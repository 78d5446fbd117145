"""What re-work cost, beside what it bought."""

import numpy as np
import pandas as pd

from scoring.contract.effort import LABOUR_COST_PER_H
from scoring.what_if.action_arrays import ACTION_NAMES, actions_of
from scoring.what_if.site_efforts import SiteEfforts


def cost_of_rework(gain: pd.DataFrame) -> pd.DataFrame:
    """Put what each row of re-work cost beside the loss that it removed.

    Parameters
    ----------
    gain : DataFrame
        From ``gain_of_rework``.

    Returns
    -------
    DataFrame, shape (n_rework, ...)
        ``rework_id``, ``unit_id``, ``site``, ``done_on``, ``after_failure``, ``loss_removed`` of a
        year; ``hours`` of one person [h], ``hours_assumed``: whether they are not written down and
        those usual for the work were taken; ``labour`` and ``parts`` [currency].

    Notes
    -----
    Labour: crew-hours on record times ``LABOUR_COST_PER_H``, a planning value of ours. What parts
    cost is never on record: the usual cost of those that the actions always need, ours too. Each
    row is costed on its own, whatever else was done at the unit that day.
    """
    words, which = np.unique(gain["actions"].to_numpy(object).astype(str), return_inverse=True)
    done = np.array([actions_of(one) for one in words], dtype=bool)
    usual = SiteEfforts().work(
        pd.Series("", index=range(len(words))), done.reshape(len(words), len(ACTION_NAMES))
    )
    of_words = usual["hours"].to_numpy(np.float64)
    parts = usual["cost"].to_numpy(np.float64) - of_words * LABOUR_COST_PER_H
    assumed = gain["crew_hours"].isna().to_numpy()
    hours = np.where(assumed, of_words[which], gain["crew_hours"].to_numpy(np.float64))
    kept = ["rework_id", "unit_id", "site", "done_on", "after_failure", "loss_removed"]
    return gain[kept].assign(
        hours=hours,
        hours_assumed=assumed,
        labour=hours * LABOUR_COST_PER_H,
        parts=parts[which],
    )
