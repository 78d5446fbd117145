"""``mount-risk template``: empty tables to fill in."""

from pathlib import Path

import click

from scoring.cli.screen import say
from scoring.errors import FixableError
from scoring.files.template import WORKBOOK, write_template


@click.command()
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
def template(folder: Path) -> None:
    """Write empty CSV files and a workbook with explanations to FOLDER."""
    if folder.exists() and any(folder.iterdir()):
        raise FixableError(f"{folder} is not empty; give a new folder, so that nothing is lost")
    for path in write_template(folder):
        say(str(path))
    say(f"Fill in either the CSV files or {WORKBOOK}, then: mount-risk check")
