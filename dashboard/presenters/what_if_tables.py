"""What re-work, or another finding, would change at one unit, as its page shows it."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from dashboard.presenters.words import VERDICT_WORDS, chance, money
from scoring.assessment import Assessment
from scoring.contract import CHECKS, Check
from scoring.contract.events import MODE_WORDS
from scoring.contract.rework import ACTION_BY_NAME, actions_said
from scoring.planning.sets_of_actions import possible_cures
from scoring.records import unit_has
from scoring.what_if.action_arrays import ACTION_NAMES, FITS, actions_of
from scoring.what_if.candidates import Candidates, candidates_of
from scoring.what_if.rework_success import ReworkSuccess
from scoring.what_if.values_to_set import values_to_set_at
from scoring.what_if.what_is_credited import how_it_is_counted
from scoring.what_if.words_of_hanging import words_of_hanging

Answer = Mapping[Hashable, Any]
"""The row that ``what_if`` answers."""


@dataclass(frozen=True)
class Offered:
    """What can be asked of a unit.

    Attributes
    ----------
    actions : dict of str to str
        Actions that fit its mounting, in words; first those that cure what was found.
    checks : dict of str to Check
        Checks that its mounting has.
    """

    actions: dict[str, str]
    checks: dict[str, Check]


def offered(assessment: Assessment, unit_id: str) -> Offered:
    """Return what can be asked of a unit."""
    unit = _place(assessment, unit_id)
    units = assessment.known.units
    fits = FITS[int(units["mounting"].cat.codes.iloc[unit])]
    cures = possible_cures(assessment)[unit]
    first = [name for name, one in zip(ACTION_NAMES, cures, strict=True) if one]
    then = [name for name, one in zip(ACTION_NAMES, fits & ~cures, strict=True) if one]
    words = {name: f"▲ {actions_said(name)}" for name in first}
    words |= {name: actions_said(name) for name in then}
    return Offered(words, {one.name: one for one in CHECKS if unit_has(one, units, unit)})


def _place(assessment: Assessment, unit_id: str) -> int:
    return int((assessment.known.units["unit_id"] == unit_id).to_numpy().argmax())


def question(
    assessment: Assessment, unit_id: str, actions: Sequence[str], found: Mapping[str, object]
) -> Candidates:
    """Put the question what would change.

    Parameters
    ----------
    assessment : Assessment
        The fleet.
    unit_id : str
        A unit in service.
    actions : sequence of str
        What would be done.
    found : mapping of str to object
        What a look would find, check by check.

    Returns
    -------
    Candidates

    Raises
    ------
    FixableError
        If a check cannot have its value, or an action has nothing to do here.
    """
    unit = _place(assessment, unit_id)
    to_set = ";".join(f"{check}={value}" for check, value in found.items())
    flags = actions_of(";".join(actions))[np.newaxis]
    looked = values_to_set_at(to_set, assessment.known.units, unit)
    return candidates_of(assessment.known, np.array([unit]), flags, looked)


def chances(answer: Answer) -> dict[str, tuple[str, str]]:
    """Return for each failure its chance afterwards and as it stands, each with its interval."""
    out = {}
    for mode, words in MODE_WORDS.items():
        after, before = (
            chance(*(answer[f"p_{mode}{part}{end}"] for part in ("", "_low", "_high")))
            for end in ("_after", "")
        )
        out[words] = (after, before)
    return out


def verdicts(answer: Answer) -> str:
    """Return the verdict now and afterwards."""
    return " → ".join(VERDICT_WORDS[str(answer[name])] for name in ("verdict", "verdict_after"))


def losses(answer: Answer, *, by_rework: bool) -> dict[str, tuple[str, str]]:
    """Return losses, each with what stands below it; loss avoided only where re-work alone is."""
    currency = answer["currency"]
    before, after = (
        money(float(answer[n]), currency) for n in ("expected_loss", "expected_loss_after")
    )
    out = {"expected loss": (after, f"was {before}")}
    if by_rework:
        avoided = float(answer["loss_avoided"])
        how = how_it_is_counted(answer)
        out["loss avoided"] = (
            money(avoided, currency),
            f"at a cost of {money(float(answer['cost']), currency)}" + (f"; {how}" if how else ""),
        )
        an_hour = money(avoided / float(answer["hours"]), currency)
        out["avoided a crew-hour"] = (an_hour, f"{answer['hours']:g} crew-hours")
    return out


def hung_anew_said(assessment: Assessment, asked: Candidates) -> str:
    """Say what nobody has seen any more once the unit was hung anew; empty where it is not."""
    words = words_of_hanging(assessment.known, asked)
    return words[:1].upper() + words[1:]


def work_said(answer: Answer) -> str:
    """Say what the work takes."""
    parts = f"; parts take {answer['lead_days']} days" if answer["lead_days"] else ""
    return (
        f"{answer['hours']:g} hours of one person, set-ups included; people at once: "
        f"{answer['people']}; {'with a crane' if answer['crane'] else 'no crane'}; "
        f"{'the line stops' if answer['line_stops'] else 'the line runs on'}{parts}"
    )


def steps(actions: str, success: ReworkSuccess) -> pd.DataFrame:
    """Return what is done, brought actions included: how often it succeeds, who, tools, parts."""
    learned = {str(one["action"]): one for one in success.table.to_dict("records")}
    rows = []
    for name in actions.split(";"):
        one, effort = learned[name], ACTION_BY_NAME[name].effort
        rows.append(
            {
                "what": actions_said(name),
                "how": ACTION_BY_NAME[name].does,
                "succeeds with a chance of": chance(one["chance"], one["low"], one["high"]),
                "looked at afterwards": one["looks"],
                "who": effort.who,
                "tools": ", ".join(effort.tools),
                "parts": ", ".join(effort.parts),
                "mind": effort.caution,
            }
        )
    return pd.DataFrame(rows)
