"""``mount-risk check``: every fault of a fleet's records."""

from importlib import import_module
from pathlib import Path

import click

from scoring.cli.loading import fleet_argument, fleet_options, load_checked
from scoring.cli.screen import counted, err, say, show_faults, warn
from scoring.errors import FaultyRecordsError
from scoring.files.write_rejected_rows import write_rejected
from scoring.files.write_table import check_suffix, write_table
from scoring.store.store_or_files import is_store_address


@click.command()
@fleet_argument
@fleet_options
@click.option(
    "--rejected",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="Also write the rejected rows to this folder.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=None,
    help="Also write the list of faults: .csv, .parquet or .xlsx.",
)
def check(
    fleet: str,
    add: tuple[str, ...],
    headings: Path | None,
    rejected: Path | None,
    out: Path | None,
) -> None:
    """Print every fault of FLEET: where, what was given, what is wrong, what would be right.

    Of a store also whether it is sound: what it holds is what was put there, and every version of
    every record stands in its history.
    """
    if out is not None:
        check_suffix(out)
    unsound = _faults_of_stores((fleet, *add))
    checked = load_checked(fleet, add, headings)
    if checked.faults.empty and not unsound:
        rows = {name: len(checked.fleet.table(name)) for name in ("units", "walkdowns")}
        say(f"no faults: {rows['units']} units, {rows['walkdowns']} walkdowns")
        return
    for fault in unsound:
        say(fault)
    show_faults(checked.faults)
    if checked.untold:
        say(
            f"... and {checked.untold} more; a thousand of each table are told. "
            "All rejected rows: --rejected FOLDER"
        )
    if out is not None:
        write_table(checked.faults, out, sheet="faults")
    if rejected is not None:
        for path in write_rejected(checked.rejected, rejected):
            say(f"rejected rows written to {path}")
    raise FaultyRecordsError(counted(checked.how_many_faults + len(unsound), "fault"))


def _faults_of_stores(places: tuple[str, ...]) -> list[str]:
    """Return what is wrong with the stores among some places, beside their records."""
    stores = [place for place in places if is_store_address(place)]
    with err.status("checking the store"):
        found = [import_module("scoring.store.read_store").check(place) for place in stores]
    for remark in (words for one in found for words in one.remarks):
        warn(remark)
    return [fault for one in found for fault in one.faults]
