"""One unit as its page shows it."""

from typing import Any

import pandas as pd

from scoring.assessment import Assessment
from scoring.contract import CHECK_BY_NAME, UNITS
from scoring.contract.events import MODE_WORDS, MODES
from scoring.explanation import Explanation
from scoring.explanation.traced_number import TracedNumber
from scoring.records import unit_has
from scoring.rules.rule import Severity
from scoring.rules.rulebook import RULE_BY_NAME

_SEVERITY_WORDS = {
    Severity.HOLD: "■ hold",
    Severity.CORRECT: "▲ correct",
    Severity.WATCH: "○ watch",
}


def nameplate(assessment: Assessment, unit_id: str) -> pd.DataFrame:
    """Return what the records say of the unit itself, blanks left out."""
    row = _row(assessment.known.units, unit_id)
    rows = [
        (column.meaning, _said(row[column.name]).replace("_", " "), column.unit)
        for column in UNITS.columns
        if pd.notna(row[column.name])
    ]
    return pd.DataFrame(rows, columns=["what", "value", "unit"])


def where_and_what(units: pd.DataFrame, unit_id: str) -> str:
    """Say in one line where a unit hangs, what it drives, how it holds the shaft, and its site.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    unit_id : str
        Which unit.
    """
    row = _row(units, unit_id)
    mounting = str(row["mounting"]).replace("_", " ")
    size = f"shaft of {row['shaft_diameter_mm']:g} mm" if row["shaft_diameter_mm"] > 0 else None
    said = (row["line"], row["driven_equipment"], mounting, size, row["site"])
    return " · ".join(str(one) for one in said if pd.notna(one))


def _row(units: pd.DataFrame, unit_id: str) -> "pd.Series[Any]":
    return units[units["unit_id"] == unit_id].iloc[0]


def _said(value: object) -> str:
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, pd.Timestamp):
        return str(value.date())
    return str(value)


def findings(explanation: Explanation) -> pd.DataFrame:
    """Return the unit's findings, numbered as in its pictures, with why and on whose word."""
    table = explanation.findings
    rules = [RULE_BY_NAME[name] for name in table["rule"]]
    return pd.DataFrame(
        {
            "nr.": range(1, len(table) + 1),
            "asks for": [_SEVERITY_WORDS[Severity(level)] for level in table["severity"]],
            "found": table["reason"],
            "seen on": table["seen_on"],
            "why it matters": [rule.why for rule in rules],
            "cure": table["do"],
            "accepted": table["accepted"],
            "rule rests on": [rule.origin for rule in rules],
        }
    )


def effects(explanation: Explanation) -> pd.DataFrame:
    """Return what drives each risk, with words for the chart."""
    table = explanation.effects.copy()
    table["failure"] = table["failure_mode"].map(MODE_WORDS)
    seen = table["state"].where(table["state"] != "", table["basis"])
    table["shown"] = table["label"] + ": " + seen
    return table[table["handbook"].round(3) != 1]


def probabilities(explanation: Explanation) -> pd.DataFrame:
    """Return the chance of each failure with its interval."""
    ranked = explanation.ranked
    return pd.DataFrame(
        [
            {
                "failure": MODE_WORDS[mode],
                "chance": float(ranked[f"p_{mode}"]),
                "low": float(ranked[f"p_{mode}_low"]),
                "high": float(ranked[f"p_{mode}_high"]),
            }
            for mode in MODES
        ]
    )


def inputs(number: TracedNumber) -> pd.DataFrame:
    """Return the inputs of a number."""
    rows = [
        (
            part.name,
            _value_said(part.value),
            part.unit,
            "assumed" if part.assumed else "",
        )
        for part in number.inputs
    ]
    return pd.DataFrame(rows, columns=["input", "value", "unit", "assumed"])


def topics(explanation: Explanation) -> dict[str, list[TracedNumber]]:
    """Return the numbers under their headings."""
    by_topic: dict[str, list[TracedNumber]] = {}
    for number in explanation.numbers:
        by_topic.setdefault(number.topic, []).append(number)
    return by_topic


def checks_now(assessment: Assessment, unit_id: str) -> pd.DataFrame:
    """Return every check that the unit has, and what is known of it."""
    known = assessment.known
    place = int((known.units["unit_id"] == unit_id).to_numpy().argmax())
    status_words = {0: "not seen", 1: "seen", 2: "reported cured, not seen since"}
    rows = []
    for name, check in CHECK_BY_NAME.items():
        if not unit_has(check, known.units, place):
            continue
        value = known.found[name].iloc[place]
        worse = known.exceedance[name].iloc[place] > 0
        status = status_words[int(known.status[name].iloc[place])]
        said = "" if pd.isna(value) else f"{_said(value)} {check.unit}".replace("_", " ").strip()
        rows.append(
            {
                "check": check.label,
                "known": status,
                "value": said,
                "judged": "" if not said else ("▲ worse than good" if worse else "good"),
                "seen on": known.seen_on[name].iloc[place],
                "can be seen": check.seen.words,
            }
        )
    return pd.DataFrame(rows)


def _value_said(value: float | str) -> str:
    """Write the value of an input.

    Examples
    --------
    >>> _value_said(0.12346), _value_said("clean"), _value_said(float("nan"))
    ('0.1235', 'clean', 'not known')
    """
    if not isinstance(value, float):
        return str(value)
    return "not known" if value != value else f"{value:.4g}"  # noqa: PLR0124 - missing
