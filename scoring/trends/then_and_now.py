"""Each unit's expected loss and hold, now and a year ago, by what was learned up to now."""

import numpy as np
import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.contract.ranking import HOLD

YEAR = pd.DateOffset(years=1)


def then_and_now(assessor: FleetAssessor, now: Assessment) -> pd.DataFrame:
    """Put each unit's expected loss of a year beside what it was a year ago.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    now : Assessment
        The fleet as of the day; what its failures taught is used for both days, so that they differ
        by what was known of the units, and of how usual faults are.

    Returns
    -------
    DataFrame
        One row for each unit in service on either day: ``unit_id``, ``site``, ``loss_now`` and
        ``loss_before`` [currency, within a year], ``held_now`` and ``held_before`` (1 or 0);
        missing where the unit was not in service.
    """
    before = assessor.assess(now.known.as_of - YEAR, now.horizon_days, now.learning)
    table = _of(now).add_suffix("_now").join(_of(before).add_suffix("_before"), how="outer")
    sites = assessor.fleet.units.set_index("unit_id")["site"].astype(object)
    table.insert(0, "site", sites.reindex(table.index))
    return table.reset_index(names="unit_id")


def _of(assessment: Assessment) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "loss": assessment.risk.expected_loss,
            "held": np.asarray(assessment.verdicts.verdict == HOLD, dtype=np.float64),
        },
        index=pd.Index(assessment.known.units["unit_id"].astype(object)),
    )
