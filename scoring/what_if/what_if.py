"""What re-work, or another finding, would change: risk, verdict and loss before and after."""

import numpy as np
import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.consequences.joint_grip import joint_grip
from scoring.consequences.nameplate import read_nameplates
from scoring.contract.events import MODES
from scoring.contract.ranking import HOLD
from scoring.records import TEXT
from scoring.rules import judge_units
from scoring.what_if.action_arrays import words_of_actions
from scoring.what_if.candidates import Candidates
from scoring.what_if.known_after import known_after
from scoring.what_if.parts_needed import parts_needed
from scoring.what_if.rework_success import ReworkSuccess
from scoring.what_if.site_efforts import SiteEfforts

ROWS_AT_ONCE = 30_000
"""Questions answered in one go, to bound memory. Ours."""


def what_if(
    assessor: FleetAssessor,
    assessment: Assessment,
    candidates: Candidates,
    success: ReworkSuccess | None,
    efforts: SiteEfforts,
) -> pd.DataFrame:
    """Work out what re-work, or another finding, would change.

    Parameters
    ----------
    assessor : FleetAssessor
        The fleet.
    assessment : Assessment
        How it stands, made by ``assessor``.
    candidates : Candidates
        What might be done or found, one row a question.
    success : ReworkSuccess or None
        How often re-work succeeds; a cure that does not leaves a check as it is. None: as the
        ranking counts re-work once it is on record.
    efforts : SiteEfforts
        What re-work takes at each site.

    Returns
    -------
    DataFrame, shape (n_questions, ...)
        ``unit`` (place in ``known.units``), ``unit_id``, ``site``, ``line``, ``actions``; for each
        failure ``p_``, its ``_low`` and ``_high``, and the same with ``_after``; ``verdict`` and
        ``verdict_after``, ``clears_hold``; ``expected_loss``, ``expected_loss_after``,
        ``loss_after_credited`` (re-work credited what it cures), ``standing_loss``,
        ``loss_avoided`` (never below 0), ``currency``; ``hours``, ``people``, ``crane``,
        ``line_stops``, ``lead_days``, ``cost``.

    Notes
    -----
    What is avoided is ``expected_loss - loss_after_credited``, and nothing at a unit that stays on
    hold, for it must not run in any case. Where a site says what a unit on hold costs while it
    stands still, a unit on hold is taken to stand: what is avoided by lifting the hold is then
    ``standing_loss - loss_after_credited``.

    The hazards come from the code that ranks. Losses are those within the horizon of the
    assessment; re-work is taken to be done on the as-of day.
    """
    parts = [
        _some(assessor, assessment, candidates.where(slice(start, start + ROWS_AT_ONCE)), success)
        for start in range(0, max(len(candidates), 1), ROWS_AT_ONCE)
    ]
    answers = pd.concat(parts, ignore_index=True)
    _add_what_is_avoided(answers, efforts, assessment.horizon_days)
    parts_there = parts_needed(assessment.known)[candidates.unit]
    work = efforts.work(answers["site"], candidates.actions, parts_there)
    return pd.concat([answers, work], axis=1)


def _add_what_is_avoided(answers: pd.DataFrame, efforts: SiteEfforts, horizon_days: int) -> None:
    """Add the loss avoided: nothing at a unit that stays on hold, for it must not run."""
    held = (answers["verdict"] == HOLD).to_numpy()
    a_day = np.where(held, efforts.standing_cost(answers["site"]), np.nan)
    stands = ~np.isnan(a_day)
    answers["standing_loss"] = np.where(stands, a_day * horizon_days, 0.0)
    before = np.where(stands, answers["standing_loss"], answers["expected_loss"])
    avoided = np.maximum(before - answers["loss_after_credited"], 0.0)
    answers["loss_avoided"] = avoided.where(answers["verdict_after"] != HOLD, 0.0)


def _some(
    assessor: FleetAssessor,
    assessment: Assessment,
    candidates: Candidates,
    success: ReworkSuccess | None,
) -> pd.DataFrame:
    known, unit, risk = assessment.known, candidates.unit, assessment.risk
    chance = None if success is None else success.chance
    after = known_after(known, assessment.limits, candidates, chance)
    limits = assessment.limits.at(unit)
    risks_after = assessment.yardstick.risks(after, limits, assessment.horizon_days)
    grip = joint_grip(after, limits, read_nameplates(after.units))
    judged = judge_units(assessor.timeline, after, limits, grip)
    asked = candidates.asks_something
    columns: dict[str, object] = {
        "unit": unit,
        **{name: known.units[name].array.take(unit) for name in ("unit_id", "site", "line")},
        "actions": words_of_actions(candidates.actions),
    }
    loss, credited = np.zeros(len(unit)), np.zeros(len(unit))
    for mode in MODES:
        now, then = risk.modes[mode], risks_after[mode]
        for end in ("probability", "low", "high"):
            name = f"p_{mode}" + ("" if end == "probability" else f"_{end}")
            before = getattr(now, end)[unit]
            columns[name] = before
            columns[f"{name}_after"] = np.where(asked, getattr(then, end), before)
        cost = risk.costs.of_failure(mode)[unit]
        loss += then.probability * cost
        credited += then.credited * cost
    before_loss = risk.expected_loss[unit]
    loss, credited = (np.where(asked, one, before_loss) for one in (loss, credited))
    verdict = np.asarray(assessment.verdicts.verdict)[unit]
    verdict_after = np.where(asked, np.asarray(judged.verdicts.verdict), verdict)
    currency = risk.costs.currency or np.nan
    return pd.DataFrame(
        {
            **columns,
            "verdict": verdict,
            "verdict_after": verdict_after,
            "clears_hold": (verdict == HOLD) & (verdict_after != HOLD),
            "expected_loss": before_loss,
            "expected_loss_after": loss,
            "loss_after_credited": credited,
            "currency": pd.Series(currency, index=range(len(unit)), dtype=TEXT),
        }
    )
