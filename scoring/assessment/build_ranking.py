"""The table ``ranking``: one row a unit, holds first."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.consequence import Consequences
from scoring.contract import RANKING
from scoring.contract.ranking import HOLD, WATCH
from scoring.contract.rework import actions_said
from scoring.limits.join_words import join_words
from scoring.records import TEXT
from scoring.risk.fleet_risk import FleetRisk
from scoring.rules import Findings, JudgedUnits, Verdicts
from scoring.rules.cure_of_a_finding import first_cures
from scoring.rules.look_status import LookStatus
from scoring.rules.slip import SLIP_RULE
from scoring.timeline.known import Known

MOST_REASONS = 4
"""Reasons written out in one row; the others are counted."""


def build_ranking(
    judged: JudgedUnits,
    consequences: Consequences,
    risk: FleetRisk,
    horizon_days: int,
    basis: str,
) -> pd.DataFrame:
    """Rank the units: holds first, then by expected loss.

    Parameters
    ----------
    judged : JudgedUnits
        What the rules say of the units in service.
    consequences : Consequences
        What the findings do at the same units.
    risk : FleetRisk
        What they risk.
    horizon_days : int
        Days looked ahead. [d]
    basis : str
        What the hazards rest on.

    Returns
    -------
    DataFrame, shape (n_units, ...)
        Every column of the contract's ``ranking``; missing where nothing is computed.
    """
    known, seen, verdicts = judged.known, judged.look_status, judged.verdicts
    units, size = known.units, len(known.units)
    columns: dict[str, object] = {
        "unit_id": units["unit_id"],
        "site": units["site"],
        "verdict": verdicts.verdict,
        "expected_loss": risk.expected_loss,
        "currency": pd.Series(risk.costs.currency or np.nan, index=units.index, dtype=TEXT),
        "slip_margin": consequences.grip.margin,
        "added_bearing_load_n": consequences.added_bearing_load,
        "bearing_life_ratio": consequences.bearing_life_ratio,
        "seal_runout_ratio": consequences.seal_runout_ratio,
        "main_reasons": _reasons(known, judged.findings, seen, verdicts),
        "first_action": _first_action(judged.findings, seen, verdicts),
        "not_seen": _text(seen.not_seen),
        "assumed": _text(_assumed(judged, consequences, risk)),
        "as_of": np.full(size, known.as_of.to_datetime64().astype("datetime64[s]")),
        "horizon_days": np.full(size, horizon_days),
        "basis": pd.Series(basis, index=units.index, dtype="str"),
    }
    for mode, one in risk.modes.items():
        columns[f"p_{mode}"] = one.probability
        columns[f"p_{mode}_low"] = one.low
        columns[f"p_{mode}_high"] = one.high
    frame = in_order_of_rank(pd.DataFrame(columns, index=units.index))
    return frame[[column.name for column in RANKING.columns]]


def in_order_of_rank(rows: pd.DataFrame) -> pd.DataFrame:
    """Put rows of a ranking in its order, and number them: holds, the greatest loss, the id.

    Parameters
    ----------
    rows : DataFrame, shape (n_units, ...)
        ``unit_id``, ``verdict`` and ``expected_loss``, in any order.

    Returns
    -------
    DataFrame, shape (n_units, ...)
        The same rows, with ``rank``.
    """
    order = np.lexsort(
        [
            rows["unit_id"].to_numpy(dtype=object).astype(str),
            -rows["expected_loss"].to_numpy(),
            (rows["verdict"] != HOLD).to_numpy(dtype=bool),
        ]
    )
    ranked = rows.iloc[order].reset_index(drop=True)
    ranked["rank"] = np.arange(1, len(ranked) + 1)
    return ranked


def _assumed(
    judged: JudgedUnits, consequences: Consequences, risk: FleetRisk
) -> NDArray[np.object_]:
    """Join everything that was taken for granted at each unit."""
    of_limits = judged.limits.assumed
    parts: list[tuple[NDArray[np.bool_], str | NDArray[np.object_]]] = [
        (of_limits != "", of_limits),
        *consequences.nameplate.words,
        *consequences.words,
        *consequences.grip.words,
        *risk.costs.words,
    ]
    return join_words(parts, len(judged.known.units))


def _reasons(
    known: Known, findings: Findings, seen: LookStatus, verdicts: Verdicts
) -> "pd.Series[str]":
    """Say why, the worst first; for a unit to watch also what is to be looked at."""
    size = len(known.units)
    table = _low_margin_written_out(findings.table)
    place = _place_within_unit(table)
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


def _low_margin_written_out(table: pd.DataFrame) -> pd.DataFrame:
    """Move a slip margin that would only be counted among the reasons that are written out."""
    place = _place_within_unit(table).astype(np.float64)
    late = (table["check"] == SLIP_RULE.check).to_numpy() & (place >= MOST_REASONS)
    place[late] = MOST_REASONS - 1.5
    order = np.lexsort([place, table["unit"].to_numpy(np.int64)])
    return table.iloc[order].reset_index(drop=True)


def _place_within_unit(table: pd.DataFrame) -> NDArray[np.int64]:
    """Count the findings of each unit from 0 on; they stand together."""
    unit, place = table["unit"].to_numpy(np.int64), np.arange(len(table))
    others = np.flatnonzero(unit[1:] != unit[:-1]) + 1
    first = np.zeros(len(unit), dtype=np.int64)
    first[others] = others
    return place - np.maximum.accumulate(first)


def _first_action(findings: Findings, seen: LookStatus, verdicts: Verdicts) -> "pd.Series[str]":
    """Name the re-work of the gravest open finding; for a unit to watch, what to look at."""
    size = len(verdicts.verdict)
    words = np.full(size, "", dtype=object)
    look = seen.not_seen.copy()
    for more in (seen.reported_cured, seen.due_again):
        look = np.where(look == "", more, look)
    watched = np.asarray(verdicts.verdict == WATCH)
    words[watched] = np.where(look == "", "look again soon", "look at: " + look)[watched]
    first = first_cures(findings.open())
    said = {name: actions_said(str(name)) for name in first["action"].unique()}
    what = first["action"].map({**said, "": "look closer"})
    words[first["unit"].to_numpy(np.int64)] = (what + ": " + first["do"]).to_numpy()
    return _text(words)


def _text(words: NDArray[np.object_]) -> "pd.Series[str]":
    """Keep words as text, an empty one as missing."""
    said = words.copy()
    said[words == ""] = np.nan
    return pd.Series(said, dtype=TEXT)
