"""The verdict on one unit, from its records alone, by the rules alone."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.contract.ranking import HOLD
from scoring.records import Fleet
from scoring.rules import JudgedUnits
from scoring.rules.cure_of_a_finding import curing_at, named_at
from scoring.rules.rule import Severity
from scoring.rules.what_cures import ACTION_NAMES
from scoring.timeline import Known


@dataclass(frozen=True)
class OpenFinding:
    """A finding that stands, and what is to be done about it.

    Attributes
    ----------
    check : str
        The check it is of.
    what : str
        What was found.
    do : str
        What to do, in plain words.
    cures : tuple of str
        Actions that can cure it, or help to.
    """

    check: str
    what: str
    do: str
    cures: tuple[str, ...] = ()


@dataclass(frozen=True)
class UnitVerdict:
    """The verdict on one unit.

    Attributes
    ----------
    verdict : str
        hold, correct, watch or no_finding; empty where the unit is not in service.
    holds, corrects, watched : tuple of OpenFinding
        Open findings.
    accepted : tuple of str
        Findings that somebody answers for, with who, until when and why.
    not_seen : str
        Critical checks that nobody has seen.
    """

    verdict: str
    holds: tuple[OpenFinding, ...] = ()
    corrects: tuple[OpenFinding, ...] = ()
    watched: tuple[OpenFinding, ...] = ()
    accepted: tuple[str, ...] = ()
    not_seen: str = ""

    @property
    def must_not_run(self) -> bool:
        """Whether the unit must not run."""
        return self.verdict == HOLD


def verdict_of_unit(fleet: Fleet, unit_id: str, as_of: pd.Timestamp) -> UnitVerdict:
    """Judge one unit.

    Parameters
    ----------
    fleet : Fleet
        The records of the unit, perhaps among others.
    unit_id : str
        The unit.
    as_of : Timestamp
        The day.

    Returns
    -------
    UnitVerdict
    """
    return verdict_in(FleetAssessor(fleet).judge(as_of), unit_id)


def verdict_in(judged: JudgedUnits, unit_id: str) -> UnitVerdict:
    """Return the verdict on one unit of those that were judged."""
    place = np.flatnonzero(judged.known.units["unit_id"] == unit_id)
    if not len(place):
        return UnitVerdict("")
    findings = judged.findings.table
    mine = findings[findings["unit_id"] == unit_id]
    standing = mine[mine["accepted"] == ""]
    return UnitVerdict(
        str(judged.verdicts.verdict[place[0]]),
        holds=_open(standing, Severity.HOLD, judged.known),
        corrects=_open(standing, Severity.CORRECT, judged.known),
        watched=_open(standing, Severity.WATCH, judged.known),
        accepted=tuple(
            f"{row.reason}; accepted {row.accepted}"
            for row in mine[mine["accepted"] != ""].itertuples(index=False)
        ),
        not_seen=str(judged.look_status.not_seen[place[0]]),
    )


def _open(findings: pd.DataFrame, severity: Severity, known: Known) -> tuple[OpenFinding, ...]:
    level = findings[findings["severity"] == severity]
    return tuple(
        OpenFinding(
            str(row.check),
            str(row.reason),
            str(row.do) or "look closer",
            _cures_of(row.Index, level, known),
        )
        for row in level.itertuples()
    )


def _cures_of(row: object, findings: pd.DataFrame, known: Known) -> tuple[str, ...]:
    """Name what can cure one finding: of a joint that slips, what its cause asks for."""
    one = findings.loc[[row]]
    can = (curing_at(one, known) | named_at(one, len(known.units))).any(axis=0)
    return tuple(np.array(ACTION_NAMES, dtype=object)[can])
