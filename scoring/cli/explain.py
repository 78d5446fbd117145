"""``mount-risk explain``: every number of one unit."""

from datetime import datetime
from pathlib import Path

import click
import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.cli.loading import fleet_argument, fleet_options, keep_good_or_stop, load_checked
from scoring.cli.rank import DAY
from scoring.cli.screen import VERDICT_MARKS, say
from scoring.contract.cautions import CAUTIONS
from scoring.contract.ranking import VERDICTS
from scoring.explanation import Explanation
from scoring.explanation import explain as explain_unit


@click.command()
@fleet_argument
@fleet_options
@click.option("--unit", "unit_id", required=True, help="Id of the unit.")
@click.option("--as-of", type=DAY, help="Use what was known by the end of this day.  [today]")
@click.option("--horizon", type=click.IntRange(1, 3650), default=365, show_default=True)
@click.option("--keep-good", is_flag=True, help="Go on without the rows that are faulty.")
@click.option("--rejected", type=click.Path(path_type=Path, file_okay=False), default="rejected")
def explain(  # noqa: PLR0913, PLR0917 - a command has the options it has
    fleet: str,
    add: tuple[str, ...],
    headings: Path | None,
    unit_id: str,
    as_of: datetime | None,
    horizon: int,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Print every number of one unit: formula, inputs with units, source, what was assumed."""
    checked = load_checked(fleet, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    day = pd.Timestamp(as_of) if as_of else pd.Timestamp.today().normalize()
    assessment = FleetAssessor(checked.fleet).assess(day, horizon)
    _tell(explain_unit(assessment, unit_id))


def _tell(explanation: Explanation) -> None:
    ranked = explanation.ranked
    say(f"{ranked['unit_id']} at {ranked['site']}: {VERDICT_MARKS[str(ranked['verdict'])]}")
    say(f"rank {ranked['rank']}, basis: {ranked['basis']}; verdicts: {', '.join(VERDICTS)}")
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
        say(f"      = {number.formula}")
        if number.inputs:
            say(f"      with {'; '.join(part.words for part in number.inputs)}")
        say(f"      source: {number.source}")
    _tell_effects(explanation.effects)
    say(f"\n{CAUTIONS}")


def _tell_effects(effects: pd.DataFrame) -> None:
    for mode, rows in effects.groupby("failure_mode", sort=False):
        say(f"\nwhat drives {mode}, effect by effect")
        idle = rows["multiplier"].round(3) == 1
        for row in rows[~idle].to_dict("records"):
            state = f", {row['state']}" if row["state"] else ""
            say(
                f"  x {row['multiplier']:.2f} ({row['low']:.2f} to {row['high']:.2f}) "
                f"{row['label']}: {row['basis']}{state}; {row['origin']}"
            )
        if idle.any():
            say(f"  seen and good, x 1: {', '.join(rows.loc[idle, 'label'])}")
