"""``mount-risk rank``: which units must not run, which to re-work first, and why."""

from pathlib import Path

import click

from scoring.cli.fleet_question import FleetQuestion, asks_of_a_fleet
from scoring.cli.ranked_in_pieces import AskedInPieces, handed_out, tell_data_set, tell_pieces
from scoring.cli.ranking_told import tell_ranking, tell_what_was_odd
from scoring.cli.screen import err, say
from scoring.files.write_table import check_suffix, write_table


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
@click.option(
    "--workers",
    type=click.IntRange(1),
    default=None,
    metavar="N",
    help="Rank in pieces, N of them at once.",
)
@click.option(
    "--cluster",
    default="",
    metavar="ADDRESS",
    help="Rank the pieces on a Dask cluster with this scheduler, as tcp://10.0.0.1:8786.",
)
@click.option(
    "--scratch",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    metavar="FOLDER",
    help="Where pieces are kept while they are ranked; of a cluster, where all its workers see it "
    "under this path.",
)
@asks_of_a_fleet
def rank(  # noqa: PLR0913, PLR0917 - a command has the options it has
    question: FleetQuestion,
    out: Path | None,
    show: int,
    workers: int | None,
    cluster: str,
    scratch: Path | None,
) -> None:
    """Rank the units of FLEET, holds first, with reasons and the first thing to do.

    A folder that holds each table as Parquet, in one file or in a folder of files, may be larger
    than memory: where its tables are folders, or it has very many units, it is read and ranked in
    pieces. Many units of other records are read whole and judged in pieces, two at a time.
    """
    asked = AskedInPieces(question, out, show, workers, cluster, scratch)
    if asked.reads_in_pieces:
        tell_data_set(asked)
        return
    if out is not None:
        check_suffix(out)
    checked = question.read()
    if asked.judges_in_pieces(checked):
        with handed_out(asked, checked.fleet) as handed:
            del checked  # half of a large fleet's memory
            tell_pieces(asked, handed)
        return
    _, assessment = question.judge(checked)
    tell_what_was_odd(assessment)
    if out is not None:
        with err.status(f"writing {out}"):
            write_table(assessment.ranking, out)
    tell_ranking(assessment, show)
    if out is not None:
        say(f"\nThe whole ranking is in {out}")
