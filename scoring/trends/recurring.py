"""Findings that come back: found, cured, and found again."""

import numpy as np
import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS


def recurring_findings(assessor: FleetAssessor, as_of: pd.Timestamp) -> pd.DataFrame:
    """Count, check by check, findings that were reported cured and came back; no symptoms.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    as_of : Timestamp
        What was known later is left out.

    Returns
    -------
    DataFrame
        ``check`` (its label), ``found`` (times it was found anew), ``cured`` (times a cure was
        reported), ``came_back`` (times it was found again after a cure), ``units`` (on how many
        units it came back); the most frequent first.
    """
    timeline = assessor.timeline
    today = np.datetime64(as_of.date(), "D")
    rows = []
    for check in (check for check in CHECKS if not check.symptom):
        looks = timeline.looks[check.name]
        looks = looks.where((looks.known_from <= today) & (looks.exceedance > 0))
        resets = timeline.resets
        cure = resets.cures[check.name] & (resets.known_from <= today)
        cured_at, cured_unit = resets.position[cure], resets.unit[cure]
        before = np.searchsorted(cured_at, looks.position)
        spells = np.unique(np.column_stack([looks.unit, before]), axis=0)
        # A spell follows a cure if the cure just before it was of the same unit.
        after_cure = np.zeros(len(spells), dtype=bool)
        some = spells[:, 1] > 0
        after_cure[some] = cured_unit[spells[some, 1] - 1] == spells[some, 0]
        again = after_cure.copy()
        again[0:1] = False
        again[1:] &= spells[1:, 0] == spells[:-1, 0]
        rows.append(
            {
                "check": check.label,
                "found": len(spells),
                "cured": int(cure.sum()),
                "came_back": int(again.sum()),
                "units": len(np.unique(spells[again, 0])),
            }
        )
    table = pd.DataFrame(rows)
    return table.sort_values(["came_back", "found"], ascending=False, ignore_index=True)
