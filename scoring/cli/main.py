"""``mount-risk``: the command and its parts."""

import sys

import click

from scoring.cli.check import check
from scoring.cli.columns import columns
from scoring.cli.dashboard import dashboard
from scoring.cli.demo import demo
from scoring.cli.effects import effects
from scoring.cli.explain import explain
from scoring.cli.headings import headings
from scoring.cli.learn import learn
from scoring.cli.rank import rank
from scoring.cli.screen import warn
from scoring.cli.template import template
from scoring.cli.tighten import tighten
from scoring.cli.validate import validate
from scoring.errors import FixableError


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="mount-risk")
def cli() -> None:
    """Say which shaft-mounted reducers must not run, and which to re-work first.

    FLEET is a folder of CSV or Parquet files (units, walkdowns, events, rework, accepted), one
    XLSX workbook with sheets of those names, or demo:NAME for an invented demo plant.
    """


COMMANDS = (
    demo,
    rank,
    learn,
    dashboard,
    explain,
    effects,
    validate,
    check,
    columns,
    template,
    headings,
    tighten,
)

for command in COMMANDS:
    cli.add_command(command)


def main() -> None:
    """Run the command; what a person can put right is told without a traceback."""
    # A Windows console may not know the marks of the verdicts; better a ? than a crash.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        cli()
    except FixableError as error:
        warn(f"mount-risk: {error}")
        sys.exit(error.exit_code)
