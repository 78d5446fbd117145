"""``mount-risk draw``: the pictures of one unit as SVG files."""

from datetime import datetime
from pathlib import Path

import click
import pandas as pd

from scoring.assessment import FleetAssessor
from scoring.cli.loading import (
    as_of_option,
    fleet_argument,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.screen import err, say
from scoring.contract.cautions import CAUTIONS
from scoring.drawing.numbered_findings import numbered_findings
from scoring.drawing.pictures_of_unit import pictures_of_unit
from scoring.drawing.svg import THEMES, to_svg
from scoring.files.write_picture import write_pictures


@click.command()
@fleet_argument
@fleet_options
@click.option("--unit", "unit_id", required=True, help="Id of the unit.")
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    required=True,
    help="Folder for the pictures; made if need be.",
)
@as_of_option
@click.option("--theme", type=click.Choice(tuple(THEMES)), default="light", show_default=True)
@click.option(
    "--final-torque",
    "final_torque_nm",
    type=click.FloatRange(min=0, min_open=True, max=1e6),
    help="Final torque of the clamp screws from the unit's own manual, in N·m.",
)
@keep_good_options
def draw(  # noqa: PLR0913, PLR0917 - a command has the options it has
    fleet: str,
    add: tuple[str, ...],
    headings: Path | None,
    unit_id: str,
    out: Path,
    as_of: datetime | None,
    theme: str,
    final_torque_nm: float | None,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Draw one unit: its joint, torque arm, clamp screws and the walk round it, as SVG files."""
    if final_torque_nm is not None and final_torque_nm != final_torque_nm:  # noqa: PLR0124 - nan
        raise click.BadParameter("nan is no torque", param_hint="--final-torque")
    checked = load_checked(fleet, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    day = pd.Timestamp(as_of) if as_of else pd.Timestamp.today().normalize()
    with err.status("judging units"):  # findings do not rest on what failures say
        assessment = FleetAssessor(checked.fleet).assess(day)
    found = numbered_findings(assessment, unit_id)
    pictures = pictures_of_unit(assessment, unit_id, final_torque_nm)
    for finding in found:
        say(f"{finding.number}  {'■ hold: ' if finding.severe else ''}{finding.words}")
    svg = {word: to_svg(picture, theme) for word, picture in pictures.items()}
    paths = write_pictures(svg, unit_id, out)
    for path, picture in zip(paths, pictures.values(), strict=True):
        say(f"{path}: {picture.title}")
    for note in dict.fromkeys(note for p in pictures.values() for note in p.notes):
        if note != CAUTIONS:
            say(f"note: {note}")
    say(CAUTIONS)
