"""``mount-risk validate``: how well later failures were predicted."""

from datetime import datetime
from pathlib import Path

import click
import numpy as np
import pandas as pd

from scoring.cli.loading import (
    as_of_option,
    fleet_argument,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.prior_option import assessor_of, other_plants, prior_option
from scoring.cli.screen import counted, err, say
from scoring.cli.screen import out as screen
from scoring.cli.validation_tables import (
    GAINS_IN_WORDS,
    READ_WITH_CARE,
    SCORES_IN_WORDS,
    table_of_gains,
    table_of_groups,
    table_of_scores,
)
from scoring.contract.events import MODE_WORDS, MODES
from scoring.files.write_table import check_suffix, write_table
from scoring.learning.failure_rows import FailureRows
from scoring.records import Fleet
from scoring.validation.better_than_others import in_words
from scoring.validation.choose_basis import FEW_FAILURES
from scoring.validation.validate import Validation
from scoring.validation.validate import validate as validate_rows
from scoring.validation.which_is_better import STANDARD_ERRORS


@click.command()
@fleet_argument
@fleet_options
@as_of_option
@click.option(
    "--jobs",
    type=click.IntRange(1),
    default=2,
    show_default=True,
    help="How many parts of the fleet are learned from at a time.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=None,
    help="Write the scores here: .csv, .parquet or .xlsx.",
)
@prior_option
@keep_good_options
def validate(  # noqa: PLR0913, PLR0917 - a command has the options it has
    fleet: str,
    add: tuple[str, ...],
    headings: Path | None,
    as_of: datetime | None,
    jobs: int,
    out: Path | None,
    prior: Path | None,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Tell how well later failures of FLEET were predicted, a year ahead, as of earlier days."""
    if out is not None:
        check_suffix(out)
    day = pd.Timestamp(as_of) if as_of else pd.Timestamp.today().normalize()
    others = other_plants(prior, day)
    checked = load_checked(fleet, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    with err.status("laying failures beside what was known before them"):
        rows = assessor_of(checked.fleet, others).failure_rows(day)
    with err.status("learning up to earlier days and predicting what came after"):
        found = validate_rows(rows, jobs, checked.fleet.units["unit_id"])
    if found.scores.empty:
        _tell_why_nothing(rows, found, checked.fleet)
    else:
        _tell(found)
    if out is not None:
        write_table(found.scores, out, sheet="scores")
        say(f"\nThe scores are in {out}")


def _tell_why_nothing(rows: FailureRows, found: Validation, fleet: Fleet) -> None:
    """Print why nothing could be predicted, and what to do about it."""
    today, year_ago = rows.days[-1], rows.days[-2]
    kept = (fleet.events["occurred_on"] < pd.Timestamp(today + 1)).any()
    if not (kept or fleet.units["failures_recorded_from"].notna().any()):
        say(
            f"Nothing to validate: failures of this fleet are not kept. Up to {today} the table "
            "events holds none, and failures_recorded_from is blank everywhere.\n"
            "Write every failure down in events; fill failures_recorded_from with the day since "
            "when that is done, even where none has happened. Until then the handbook alone counts."
        )
        return
    say(
        f"Nothing to validate: on {year_ago}, a year before {today}, no unit was in service with "
        "its failures written down, so no later year is there to predict.\n"
        "Come back when failures have been written down for more than a year, or give a later "
        "--as-of."
    )
    if all(basis.learned is None for basis in found.basis.values()):
        say("Until then the handbook alone counts.")
    else:
        _tell_basis(found, MODES)


def _tell(found: Validation) -> None:
    scores, table = found.scores, found.predictions
    days = table["since"].dt.strftime("%Y-%m-%d").unique()
    say(
        f"As of {', '.join(sorted(days))} it was learned from what was recorded by then, and "
        f"predicted which units would fail up to a year later, at most up to {found.days[-1]}.\n"
        f"Units are compared with units of the same day."
    )
    modes = [mode for mode in MODES if (scores["failure_mode"] == mode).any()]
    say("\nIs it better than what a plant could do without it?")
    for mode in modes:
        compared = found.compared[found.compared["failure_mode"] == mode]
        say(f"{MODE_WORDS[mode]}: {in_words(compared)}")
    for mode in modes:
        of_mode = scores[scores["failure_mode"] == mode]
        units, failures = of_mode[["units", "failures"]].iloc[0]
        say(
            f"\n{MODE_WORDS[mode]}: {counted(failures, 'failure')} among {units} units, each "
            "counted once for each day\n"
        )
        screen.print(table_of_scores(of_mode))
        say("")
        screen.print(table_of_groups(found, mode))
    say("")
    _explain(SCORES_IN_WORDS)
    say("\nBy how much the fleet's own failures predicted better than the handbook alone\n")
    screen.print(table_of_gains(found.gains, modes))
    say("")
    _explain(GAINS_IN_WORDS)
    _tell_basis(found, modes)
    for line in READ_WITH_CARE:
        say(line)
    if scores["scheme"].nunique() < 3:
        say("Other sites were not tried: there is but one.")
    for mode in modes:
        failures = scores.loc[scores["failure_mode"] == mode, "failures"].iloc[0]
        say(f"{MODE_WORDS[mode]}: {few_failures_prove_little(failures)}")


def few_failures_prove_little(failures: int) -> str:
    """Tell how far chance alone may move a score.

    Parameters
    ----------
    failures : int
        To be predicted, at least 0.

    Notes
    -----
    Where units fail by lot, each failure's rank is spread evenly from 0 to 1, and their mean, the
    order, has a standard error of 1 / sqrt(12 failures) (textbook); two of them are given.

    Examples
    --------
    >>> few_failures_prove_little(12)
    'few failures prove little: with 12, chance alone may move the order by 0.17 either way'
    """
    if not failures:
        return "no failure came that could have been predicted: nothing is proved"
    by_chance = STANDARD_ERRORS / np.sqrt(12 * failures)
    few = "few failures prove little: " if failures < 5 * FEW_FAILURES else ""
    return f"{few}with {failures}, chance alone may move the order by {by_chance:.2f} either way"


def _explain(words: dict[str, str]) -> None:
    for name, meaning in words.items():
        say(f"  {name}: {meaning}")


def _tell_basis(found: Validation, modes: tuple[str, ...] | list[str]) -> None:
    say("")
    for mode in modes:
        basis = found.basis[mode]
        say(f"used now for {MODE_WORDS[mode]}: {basis.words}; {basis.why}")
