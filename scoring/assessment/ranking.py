"""The table ``ranking``: one row a unit, holds first."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import RANKING
from scoring.contract.ranking import WATCH
from scoring.contract.rework import ACTIONS
from scoring.limits import UnitLimits
from scoring.limits.join_words import join_words
from scoring.records import TEXT, dtype_of
from scoring.rules import Findings, Verdicts
from scoring.rules.rule import Severity
from scoring.rules.sight import Sight
from scoring.timeline.known import Known

MOST_REASONS = 4
"""Reasons written out in one row; the others are counted."""

BASIS = "rules"


def build_ranking(  # noqa: PLR0913, PLR0917 - it brings together what every step found
    known: Known,
    limits: UnitLimits,
    findings: Findings,
    seen: Sight,
    verdicts: Verdicts,
    horizon_days: int,
) -> pd.DataFrame:
    """Rank the units: by verdict, then by findings of the gravest kind, then the next.

    Parameters
    ----------
    known : Known
        What was known of the units in service.
    limits : UnitLimits
        Their limits, and what was assumed.
    findings : Findings
        What the rules found.
    seen : Sight
        What nobody has seen lately.
    verdicts : Verdicts
        The verdict on each unit.
    horizon_days : int
        Days looked ahead. [d]

    Returns
    -------
    DataFrame, shape (n_units, ...)
        Every column of the contract's ``ranking``; missing where nothing is computed.
    """
    units = known.units
    columns: dict[str, object] = {
        "unit_id": units["unit_id"],
        "site": units["site"],
        "verdict": verdicts.verdict,
        "currency": units["currency"],
        "main_reasons": _reasons(known, findings, seen, verdicts),
        "first_action": _first_action(findings, seen, verdicts),
        "not_seen": _text(seen.not_seen),
        "assumed": _text(limits.assumed),
        "as_of": np.full(len(units), known.as_of.to_datetime64().astype("datetime64[s]")),
        "horizon_days": np.full(len(units), horizon_days),
        "basis": pd.Series(BASIS, index=units.index, dtype="str"),
    }
    counts = verdicts.counts
    order = np.lexsort(
        [
            units["unit_id"].to_numpy(dtype=object).astype(str),
            -counts["SYMPTOM"].to_numpy(),
            -counts["CORRECT"].to_numpy(),
            -counts["HOLD"].to_numpy(),
            verdicts.verdict.codes,
        ]
    )
    frame = pd.DataFrame(columns, index=units.index).iloc[order].reset_index(drop=True)
    frame["rank"] = np.arange(1, len(frame) + 1)
    missing = {
        column.name: pd.Series(np.nan, index=frame.index, dtype=dtype_of(column))  # type: ignore[call-overload]
        for column in RANKING.columns
        if column.name not in frame
    }
    return frame.assign(**missing)[[column.name for column in RANKING.columns]]


def _reasons(known: Known, findings: Findings, seen: Sight, verdicts: Verdicts) -> "pd.Series[str]":
    """Say why, the worst first; for a unit to watch also what is to be looked at."""
    size = len(known.units)
    table = findings.table
    place = table.groupby("unit").cumcount().to_numpy() if len(table) else np.empty(0, int)
    said = table["reason"].astype(object) + np.where(
        table["accepted"] == "", "", " (" + table["accepted"].astype(object) + ")"
    )
    parts: list[tuple[NDArray[np.bool_], str | NDArray[np.object_]]] = []
    for n in range(int(place.max()) + 1 if len(place) else 0):
        here = place == n
        words = np.full(size, "", dtype=object)
        words[table["unit"].to_numpy(np.int64)[here]] = said.to_numpy(dtype=object)[here]
        parts.append((words != "", words))
    watched = np.asarray(verdicts.verdict == WATCH)
    for words, what in (
        (seen.not_seen, "not seen: "),
        (seen.reported_cured, "reported cured, to be seen again: "),
        (seen.due_again, "due to be looked at again: "),
    ):
        parts.append((watched & (words != ""), what + words))
    return _text(join_words(parts, size, most=MOST_REASONS))


def _first_action(findings: Findings, seen: Sight, verdicts: Verdicts) -> "pd.Series[str]":
    """Name the re-work of the gravest open finding; for a unit to watch, what to look at."""
    size = len(verdicts.verdict)
    words = np.full(size, "", dtype=object)
    look = seen.not_seen.copy()
    for more in (seen.reported_cured, seen.due_again):
        look = np.where(look == "", more, look)
    watched = np.asarray(verdicts.verdict == WATCH)
    words[watched] = np.where(look == "", "look again soon", "look at: " + look)[watched]
    open_findings = findings.open()
    cured = open_findings[open_findings["severity"] > Severity.SYMPTOM]
    first = cured.drop_duplicates("unit")
    does = {action.name: f"{action.name}: {action.does}" for action in ACTIONS}
    words[first["unit"].to_numpy(np.int64)] = first["action"].map(does).to_numpy(dtype=object)
    return _text(words)


def _text(words: NDArray[np.object_]) -> "pd.Series[str]":
    """Keep words as text, an empty one as missing."""
    return pd.Series(words, dtype=TEXT).replace("", np.nan)
