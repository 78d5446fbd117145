"""``mount-risk rank``: which units must not run, which to re-work first, and why."""

from pathlib import Path

import click

from scoring.assessment import Assessment, FleetLearning
from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.screen import counted, err, say, show_worst, warn
from scoring.contract.cautions import CAUTIONS
from scoring.contract.events import MODE_WORDS
from scoring.contract.ranking import VERDICTS
from scoring.files.write_table import check_suffix, write_table
from scoring.learning.other_plants import OtherPlants
from scoring.validation.choose_basis import Basis

SHOWN_NOTES = 5
"""Odd records shown one by one; the others are counted."""


@click.command()
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=None,
    help="Write the ranking here: .csv, .parquet or .xlsx.",
)
@click.option(
    "--show",
    type=click.IntRange(0),
    default=12,
    show_default=True,
    help="How many of the worst units are printed.",
)
@asks_of_a_fleet
def rank(
    question: FleetQuestion,
    out: Path | None,
    show: int,
) -> None:
    """Rank the units of FLEET, holds first, with reasons and the first thing to do."""
    if out is not None:
        check_suffix(out)
    _, assessment = question.judge(question.read())
    _tell_what_was_odd(assessment)
    if out is not None:
        with err.status(f"writing {out}"):
            write_table(assessment.ranking, out)
    tell_ranking(assessment, show)
    if out is not None:
        say(f"\nThe whole ranking is in {out}")


def tell_ranking(assessment: Assessment, show: int) -> None:
    """Print how many units have each verdict, the worst of them, and the cautions."""
    ranking = assessment.ranking
    counts = ranking["verdict"].value_counts()
    share = ", ".join(f"{counts[v]} {v}" for v in VERDICTS)
    say(f"{len(ranking)} units in service on {assessment.known.as_of.date()}: {share}")
    horizon, learning = ranking["horizon_days"].iloc[0], assessment.learning
    alone = "; the handbook's alone" if learning is None else ""
    say(f"chances of the first failure within {horizon} days{alone}")
    if learning is not None:
        tell_basis(learning)
    say("")
    show_worst(ranking, show)
    if len(ranking) > show:
        say(f"... and {len(ranking) - show} more")
    say(f"\n{CAUTIONS}")


def tell_basis(learning: FleetLearning) -> None:
    """Print what the chances of each failure rest on, and why."""
    if learning.others is not None:
        say(f"  learning began with {words_of(learning.others)}")
    for mode, basis in learning.basis.items():
        say(f"  {MODE_WORDS[mode]} by {basis.words}: {_learned_from(basis)}{basis.why}")


def words_of(others: OtherPlants, called: str = "other plant") -> str:
    """Say how many plants, units and failures a prior rests on."""
    failures = ", ".join(
        counted(others.failures(mode), words) for mode, words in MODE_WORDS.items()
    )
    plants = counted(len(others.plants), called)
    return f"{plants} of {counted(others.units, 'unit')}: {failures}"


def _learned_from(basis: Basis) -> str:
    if basis.learned is None or basis.learned.by_others_alone:
        return ""
    known = basis.learned.posterior
    of_handbook = f"where the handbook expected {known.expected:.1f}"
    return f"{counted(round(known.events), 'failure')} {of_handbook};\n      "


def _tell_what_was_odd(assessment: Assessment) -> None:
    """Report looks that cannot mend a finding, and checks that contradict each other."""
    ignored, contradictory = assessment.known.better_but_ignored, assessment.contradictions
    for row in ignored.head(SHOWN_NOTES).itertuples(index=False):
        warn(
            f"note: walkdown {row.walkdown_id} of {row.unit_id} finds "
            f"{row.check} {_said(row.value)}; "
            f"only re-work can mend it, so {_said(row.standing)} stands"
        )
    for row in contradictory.head(SHOWN_NOTES).itertuples(index=False):
        warn(f"note: {row.unit_id}: {row.one} and {row.other} contradict; the worse counts")
    more = sum(max(len(notes) - SHOWN_NOTES, 0) for notes in (ignored, contradictory))
    if more:
        warn(f"note: and {more} more of these")


def _said(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)
