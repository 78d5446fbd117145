"""The verdict on each unit: hold, correct, watch, no_finding."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from scoring.contract.ranking import CORRECT, HOLD, NO_FINDING, VERDICTS, WATCH
from scoring.rules.findings import Findings
from scoring.rules.look_status import LookStatus
from scoring.rules.rule import Severity


@dataclass(frozen=True)
class Verdicts:
    """The verdict on each unit.

    Attributes
    ----------
    verdict : Categorical, shape (n_units,)
        hold: must not run; correct: a finding with a cure; watch: no such finding, but something
        to look at; no_finding: every critical check seen and good, never a permission to run.
    counts : DataFrame, shape (n_units, 3)
        Open findings by severity: ``HOLD``, ``CORRECT``, ``WATCH``.
    """

    verdict: pd.Categorical
    counts: pd.DataFrame


def give_verdicts(findings: Findings, seen: LookStatus, size: int) -> Verdicts:
    """Give the verdict on each unit.

    Parameters
    ----------
    findings : Findings
        What the rules found.
    seen : LookStatus
        What nobody has seen lately.
    size : int
        Number of units.

    Returns
    -------
    Verdicts
    """
    table = findings.table
    unit, severity = (table[name].to_numpy(np.int64) for name in ("unit", "severity"))
    is_open = (table["accepted"] == "").to_numpy()
    counts = {
        level.name: np.bincount(unit[is_open & (severity == level)], minlength=size)
        for level in reversed(Severity)
    }
    accepted = np.zeros(size, dtype=bool)
    accepted[unit[~is_open]] = True
    quiet = seen.complete & ~accepted & (counts["WATCH"] == 0)
    words = np.select(
        [counts["HOLD"] > 0, counts["CORRECT"] > 0, ~quiet], [HOLD, CORRECT, WATCH], NO_FINDING
    )
    verdict = pd.Categorical(words, categories=list(VERDICTS), ordered=True)
    return Verdicts(verdict, pd.DataFrame(counts))
