"""Apply the rules to a fleet: one row for each finding."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.joint_grip import JointGrip
from scoring.contract import CHECK_BY_NAME
from scoring.limits import UnitLimits
from scoring.rules.accepted_findings import accepted_findings
from scoring.rules.cure_of_a_finding import name_cures
from scoring.rules.rule import Circumstances, Rule
from scoring.rules.rulebook import RULEBOOK
from scoring.rules.slip import slip_findings
from scoring.timeline import Timeline
from scoring.timeline.known import Known

COLUMNS = (
    "unit",
    "unit_id",
    "check",
    "rule",
    "severity",
    "exceedance",
    "seen_on",
    "reason",
    "action",
    "do",
    "accepted",
)

Part = dict[str, NDArray[Any]]
"""Columns of what one rule found."""

_EMPTY_DTYPES = {
    "unit": "int64",
    "severity": "int64",
    "exceedance": "float64",
    "seen_on": "datetime64[s]",
    **dict.fromkeys(("unit_id", "check", "rule", "reason", "action", "do", "accepted"), "object"),
}


@dataclass(frozen=True)
class Findings:
    """The findings of a fleet.

    Attributes
    ----------
    table : DataFrame
        One row for each finding, most urgent first within a unit: ``unit`` (place in
        ``known.units``), ``unit_id``, ``check``, ``rule``, ``severity``, ``exceedance``,
        ``seen_on``, ``reason``, ``action`` (as in a record of re-work, all of it to be done; empty
        for none) and ``do`` (the same in plain words), ``accepted`` (by whom, until when and why;
        empty if nobody accepted it).
    """

    table: pd.DataFrame

    def open(self) -> pd.DataFrame:
        """Return the findings that nobody has accepted."""
        return self.table[self.table["accepted"] == ""]


def find(timeline: Timeline, known: Known, limits: UnitLimits, grip: JointGrip) -> Findings:
    """Apply the rules.

    Parameters
    ----------
    timeline : Timeline
        The records.
    known : Known
        What was known of the units in service.
    limits : UnitLimits
        The limits of these units.
    grip : JointGrip
        Their slip margins.

    Returns
    -------
    Findings
    """
    circumstances = Circumstances(known, limits.table)
    judged = {rule.check: np.zeros(len(known.units), dtype=bool) for rule in RULEBOOK}
    parts = []
    ids = known.units["unit_id"].to_numpy(dtype=object)
    for order, rule in enumerate(RULEBOOK):
        found = rule.holds(circumstances) & ~judged[rule.check]
        judged[rule.check] |= found
        unit = np.flatnonzero(found)
        if len(unit):
            of_rule = _rows(rule, unit, circumstances)
            parts.append(of_rule | {"unit_id": ids[unit], "order": np.full(len(unit), order)})
    slipping = slip_findings(grip, circumstances).assign(order=len(RULEBOOK))
    tables = [table for table in (_joined(parts), slipping) if len(table)]
    if not tables:
        return Findings(pd.DataFrame({name: [] for name in COLUMNS}).astype(_EMPTY_DTYPES))
    table = pd.concat(tables, ignore_index=True)
    table = table.sort_values(
        ["unit", "severity", "order"], ascending=[True, False, True], kind="stable"
    ).reset_index(drop=True)
    table[["action", "do"]] = name_cures(table, known)
    table["accepted"] = accepted_findings(timeline, known, table)
    return Findings(table[list(COLUMNS)])


def _rows(rule: Rule, unit: NDArray[np.int64], at: Circumstances) -> Part:
    known, size = at.known, len(unit)
    return {
        "unit": unit,
        "check": np.full(size, rule.check, dtype=object),
        "rule": np.full(size, rule.name, dtype=object),
        "severity": np.full(size, int(rule.severity)),
        "exceedance": known.exceedance[rule.check].to_numpy()[unit],
        "seen_on": known.seen_on[rule.check].to_numpy()[unit],
        "reason": _reason(rule, unit, at),
        "action": np.full(size, rule.action, dtype=object),
    }


def _joined(parts: list[Part]) -> pd.DataFrame:
    """Make one table of what all rules found: a table for each would take most of the time."""
    if not parts:
        return pd.DataFrame()
    return pd.DataFrame({name: np.concatenate([part[name] for part in parts]) for name in parts[0]})


def _reason(rule: Rule, unit: NDArray[np.int64], at: Circumstances) -> NDArray[np.object_]:
    """Fill the values into a reason, each distinct value written once."""
    text = np.full(len(unit), rule.reason, dtype=object)
    for mark, column in (
        ("{value}", at.known.found[rule.check]),
        ("{beyond}", at.known.exceedance[rule.check]),
        ("{limit}", at.limits[rule.limit] if rule.limit else None),
    ):
        if mark in rule.reason and column is not None:
            before, after = np.array([t.split(mark, 1) for t in text], dtype=object).T
            text = before + words_of(rule.check, column.iloc[unit]) + after
    return text


def words_of(check: str, values: "pd.Series[float]") -> NDArray[np.object_]:
    """Write values as a person would say them.

    Examples
    --------
    >>> words_of("engagement_mm", pd.Series([48.0, 80.25])).tolist()
    ['48', '80.25']
    >>> words_of("bore_condition", pd.Series(["oil_film"], dtype="category")).tolist()
    ['oil film']
    """
    code, distinct = pd.factorize(values.to_numpy())
    if CHECK_BY_NAME[check].is_numeric:
        said = [f"{value:.4g}" for value in distinct]
    else:
        said = [str(value).replace("_", " ") for value in distinct]
    return np.array(said, dtype=object)[code]
