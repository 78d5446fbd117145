"""Which critical checks nobody has seen, or has not seen for too long."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS
from scoring.records import has_mounting
from scoring.rules import JudgedUnits


def never_looked_at(judged: JudgedUnits) -> pd.DataFrame:
    """Count at how many units each critical check was never seen, or is due again.

    Parameters
    ----------
    judged : JudgedUnits
        What the rules say of the units in service.

    Returns
    -------
    DataFrame
        ``check`` (its label), ``units`` at which it is critical, ``never_seen`` (no value stands:
        not seen since the unit was last hung), ``overdue`` (seen good, longer ago than it may be),
        the most frequent first; checks that are neither are left out.
    """
    status, units = judged.look_status, judged.known.units
    critical = {c.label: int(has_mounting(units, c.critical_for).sum()) for c in CHECKS}
    table = pd.DataFrame(
        {
            "units": pd.Series(critical, dtype=np.int64),
            "never_seen": _counts(status.not_seen),
            "overdue": _counts(status.due_again),
        }
    )
    table = table.fillna(0).astype(np.int64)
    some = table[(table["never_seen"] > 0) | (table["overdue"] > 0)]
    order = ["never_seen", "overdue"]
    return some.sort_values(order, ascending=False, kind="stable").reset_index(names="check")


def _counts(joined: NDArray[np.object_]) -> "pd.Series[int]":
    labels = pd.Series(joined, dtype=object).str.split("; ").explode()
    return labels[labels != ""].value_counts()
