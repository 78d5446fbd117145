"""``mount-risk explain``: every number of one unit."""

from collections.abc import Hashable, Mapping
from typing import Any

import click
import numpy as np
import pandas as pd

from scoring.assessment import FleetLearning
from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.ranking_told import tell_basis
from scoring.cli.screen import VERDICT_MARKS, say
from scoring.contract.cautions import CAUTIONS
from scoring.contract.ranking import VERDICTS
from scoring.explanation import Explanation
from scoring.explanation import explain as explain_unit


@click.command()
@click.option("--unit", "unit_id", required=True, help="Id of the unit.")
@asks_of_a_fleet
def explain(
    question: FleetQuestion,
    unit_id: str,
) -> None:
    """Print every number of one unit: formula, inputs with units, source, what was assumed."""
    _, assessment = question.judge(question.read())
    _tell(explain_unit(assessment, unit_id), assessment.learning)


def _tell(explanation: Explanation, learning: FleetLearning | None) -> None:
    ranked = explanation.ranked
    say(f"{ranked['unit_id']} at {ranked['site']}: {VERDICT_MARKS[str(ranked['verdict'])]}")
    say(f"rank {ranked['rank']}, basis: {ranked['basis']}; verdicts: {', '.join(VERDICTS)}")
    if learning is not None:
        tell_basis(learning)
    for finding in explanation.findings.to_dict("records"):
        accepted = f" ({finding['accepted']})" if finding["accepted"] else ""
        say(f"  finding: {finding['reason']}{accepted}; rule {finding['rule']}")
    for label, column in (
        ("what to do first", "first_action"),
        ("not seen", "not_seen"),
        ("assumed", "assumed"),
    ):
        if isinstance(ranked[column], str):
            say(f"{label}: {ranked[column]}")
    topic = ""
    for number in explanation.numbers:
        if number.topic != topic:
            topic = number.topic
            say(f"\n{topic}")
        say(f"  {number.name}: {number.value_words}")
        say(f"      = {number.formula_words}")
        if number.inputs:
            say(f"      with {'; '.join(part.words for part in number.inputs)}")
        say(f"      source: {number.source}")
    _tell_effects(explanation.effects)
    say(f"\n{CAUTIONS}")


def _tell_effects(effects: pd.DataFrame) -> None:
    for mode, rows in effects.groupby("failure_mode", sort=False):
        say(f"\nwhat drives {mode}, effect by effect")
        idle = rows["handbook"].round(3) == 1
        for row in rows[~idle].to_dict("records"):
            say(
                f"  x {row['multiplier']:.2f} ({row['low']:.2f} to {row['high']:.2f}) "
                f"{row['label']}: {_known(row)}; {_handbook(row)}{row['origin']}"
            )
        if idle.any():
            say(f"  seen and good, x 1: {', '.join(rows.loc[idle, 'label'])}")


def _known(row: Mapping[Hashable, Any]) -> str:
    """Say how the state is known; of what was not seen, how usual a fault is taken to be."""
    state = f", {row['state']}" if row["state"] else ""
    if np.isnan(row["faulty"]):
        return f"{row['basis']}{state}"
    usual = f", taken to be worse than good with a chance of {row['faulty']:.0%}"
    if round(row["faulty"], 2) != round(row["faulty_by_handbook"], 2):
        usual += f" (by the handbook {row['faulty_by_handbook']:.0%})"
    return f"{row['basis']}{state}{usual}"


def _handbook(row: Mapping[Hashable, Any]) -> str:
    """Say what the handbook alone says, where failures have changed it."""
    if row["multiplier"] == row["handbook"]:
        return ""
    limits = f"{row['handbook_low']:.2f} to {row['handbook_high']:.2f}"
    return f"the handbook's own x {row['handbook']:.2f} ({limits}), "
