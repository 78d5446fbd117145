"""One unit over time: visits, failures, re-work, and what each look found."""

import numpy as np
import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS
from scoring.records import DAY_COLUMN
from scoring.rules.findings import words_of

WALKDOWN, FAILURE, REWORK, HUNG = "walkdown", "failure", "re-work", "hung"

_WORDS = {
    "walkdowns": (WALKDOWN, "kind"),
    "events": (FAILURE, "mode"),
    "rework": (REWORK, "actions"),
}


def unit_events(assessor: FleetAssessor, unit_id: str, as_of: pd.Timestamp) -> pd.DataFrame:
    """Return what happened to a unit, as known by the end of a day.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    unit_id : str
        The unit.
    as_of : Timestamp
        The day.

    Returns
    -------
    DataFrame
        ``day``, ``what`` (hung, walkdown, failure or re-work), ``words``, ``who``; in time.
    """
    parts = [_hung(assessor, unit_id)]
    for name, (what, column) in _WORDS.items():
        rows = _known_rows(assessor, name, unit_id, as_of)
        who = rows["inspector" if name == "walkdowns" else "crew"]
        parts.append(
            pd.DataFrame(
                {
                    "day": rows[DAY_COLUMN[name]],
                    "what": what,
                    "words": rows[column].astype(object).map(_plain, na_action="ignore"),
                    "who": who.astype(object),
                }
            )
        )
    return pd.concat(parts, ignore_index=True).sort_values("day", ignore_index=True)


def _hung(assessor: FleetAssessor, unit_id: str) -> pd.DataFrame:
    units = assessor.fleet.units
    row = units[units["unit_id"] == unit_id]
    return pd.DataFrame(
        {"day": row["installed_on"], "what": HUNG, "words": "hung", "who": row["installer"]}
    ).astype({"who": object})


def _known_rows(
    assessor: FleetAssessor, name: str, unit_id: str, as_of: pd.Timestamp
) -> pd.DataFrame:
    table = assessor.fleet.table(name)
    rows = table[table["unit_id"] == unit_id]
    end = as_of.normalize() + pd.Timedelta(days=1)
    known = (rows[DAY_COLUMN[name]] < end) & ~(rows["recorded_at"] >= end)
    return rows[known]


def _plain(text: object) -> str:
    return str(text).replace("_", " ").replace(";", ", ")


def unit_looks(assessor: FleetAssessor, unit_id: str, as_of: pd.Timestamp) -> pd.DataFrame:
    """Return what each look at a unit found, check by check.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    unit_id : str
        The unit.
    as_of : Timestamp
        The day.

    Returns
    -------
    DataFrame
        ``day``, ``check`` (its label), ``value`` in words, ``found`` (good or worse than good);
        one row for each check seen at each visit.
    """
    rows = _known_rows(assessor, "walkdowns", unit_id, as_of)
    exceedance = assessor.timeline.exceedance.loc[rows.index]
    parts = []
    for check in CHECKS:
        seen = rows[check.name].notna().to_numpy()
        if seen.any():
            bad = exceedance[check.name].to_numpy()[seen] > 0
            parts.append(
                pd.DataFrame(
                    {
                        "day": rows["inspected_on"].to_numpy()[seen],
                        "check": check.label,
                        "value": words_of(check.name, rows[check.name][seen]),
                        "found": np.where(bad, "worse than good", "good"),
                    }
                )
            )
    if not parts:
        return pd.DataFrame({"day": [], "check": [], "value": [], "found": []})
    return pd.concat(parts, ignore_index=True)
