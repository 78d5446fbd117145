"""``mount-risk effects``: the handbook as a table, and what a fleet's own failures say of it."""

from datetime import datetime
from pathlib import Path

import click
import pandas as pd

from scoring.cli.loading import (
    as_of_option,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.prior_option import assessor_of, other_plants, prior_option
from scoring.cli.ranking_told import tell_basis
from scoring.cli.screen import err, say
from scoring.cli.what_was_learned_tables import (
    show_crews,
    show_effects,
    show_findings,
    show_nameplate,
    show_others,
)
from scoring.contract.events import MODE_WORDS, MODES
from scoring.explanation.what_the_fleet_says import (
    FEW_FAILURES_PROVE_LITTLE,
    WhatWasLearned,
    what_the_fleet_says,
)
from scoring.files.write_table import check_suffix, write_table
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.effects_table import effects_table
from scoring.learning.covariates import LEVEL_ALONE

HOW_TO_READ = """\
x: what a state multiplies the hazard by, with its 90 % interval. An effect's state is its worst;
half as bad multiplies by less. Failures are those while the state stood; (expected) are the
failures of the same unit-years, had this one number stayed what it was before and all else been as
learned. Learned: how much of what was unsure about the number the failures have shown; prior only:
they narrowed its standard deviation by less than 5 %, which says nothing."""


@click.command()
@click.argument("fleet", metavar="[FLEET]", required=False)
@fleet_options
@as_of_option
@click.option(
    "--out", type=click.Path(path_type=Path), help="Write the table: .csv, .parquet, .xlsx."
)
@prior_option
@keep_good_options
def effects(  # noqa: PLR0913, PLR0917 - a command has the options it has
    fleet: str | None,
    add: tuple[str, ...],
    headings: Path | None,
    as_of: datetime | None,
    out: Path | None,
    prior: Path | None,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Print by what each finding multiplies the hazard of each failure, and on whose word.

    Without FLEET this is the handbook. With FLEET what its own failures say stands beside it, and
    on how many of them that rests; with --prior what other plants say, too.
    """
    if out is not None:
        check_suffix(out)
    if fleet is None:
        if add or headings or as_of or prior:
            raise click.UsageError("--add, --headings, --as-of and --prior go with a FLEET")
        _tell_handbook(out)
        return
    day = pd.Timestamp(as_of) if as_of else pd.Timestamp.today().normalize()
    others = other_plants(prior, day)
    checked = load_checked(fleet, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    with err.status("learning from failures"):
        assessor = assessor_of(checked.fleet, others)
        rows = assessor.failure_rows(day)
        what = what_the_fleet_says(assessor, rows, assessor.learn(day, rows))
    if not what.failures_are_kept:
        say("Failures of this fleet are not kept: this is the handbook's word alone.\n")
        _tell_handbook(out)
        return
    if out is not None:
        write_table(what.as_one_table, out, sheet="effects")
    _tell(what, day)


def _tell_handbook(out: Path | None) -> None:
    table = effects_table()
    if out is not None:
        write_table(table, out, sheet="effects")
    for mode in MODES:
        rate = BASE_RATES[mode]
        say(f"{mode}: field rate {rate.field_rate:g} a unit-year; {rate.origin}")
        for row in table[table["failure_mode"] == mode].to_dict("records"):
            share = row["usual_share"]
            usual = "" if pd.isna(share) else f"usual in {share:.0%}; "
            say(
                f"  {row['effect']}, {row['state']}: x {row['multiplier']:.2g} "
                f"({row['low']:.2g} to {row['high']:.2g}); {usual}{row['origin']}"
            )
        say("")


def _tell(what: WhatWasLearned, day: pd.Timestamp) -> None:
    say(f"What this fleet's own failures say, as recorded by {day.date()}")
    tell_basis(what.learning)
    say(f"\n{HOW_TO_READ}")
    for mode, rows in what.table.groupby("failure_mode", sort=False):
        words, part = MODE_WORDS[str(mode)].capitalize(), rows["part"]
        if mode in LEVEL_ALONE:
            say(f"\n{words}: too rare to teach more than its level; effects are prior only")
        else:
            say(f"\n{words}: effects of the handbook, what matters most first\n")
            show_effects(rows[part == "effects"])
            say(f"\n{words}: findings, whatever their degree; what they add multiplies besides\n")
            show_findings(rows[part == "findings"])
            say(f"\n{words}: the nameplate, what matters most first\n")
            show_nameplate(rows[part == "nameplate"])
        say(f"\n{words}: what the handbook knows nothing of\n")
        show_others(rows[~part.isin(["effects", "findings", "nameplate"])])
        say(f"\n{words}: crews, those who hung a unit first\n")
        show_crews(what.crews[what.crews["failure_mode"] == mode])
    say(f"\n{FEW_FAILURES_PROVE_LITTLE}")
