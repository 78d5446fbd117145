"""``mount-risk export``: the records of a store as files."""

from contextlib import closing
from pathlib import Path

import click

from scoring.cli.screen import err, say
from scoring.cli.store_options import store_option
from scoring.files.write_records import FORMATS, WORKBOOK
from scoring.store.export_records import export_records
from scoring.store.open_store import open_store


@click.command()
@store_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    required=True,
    help="A new folder, or a new workbook: FILE.xlsx.",
)
@click.option(
    "--format",
    "kind",
    type=click.Choice(FORMATS),
    default=FORMATS[0],
    show_default=True,
    help="How a folder's files are written.",
)
def export(store: str, out: Path, kind: str) -> None:
    """Write the records of a store to files; loading them again changes nothing.

    Withdrawn records are left out, and so are history, drafts, photos and sign-offs: mount-risk
    backup keeps all of that.
    """
    with closing(open_store(store)) as opened, err.status("writing records"):
        written = export_records(opened, out, kind)
    for path in written:
        say(str(path))
    if kind == "csv" and out.suffix != WORKBOOK:
        say(
            "Text that a spreadsheet would run as a formula has an apostrophe in front. Reading "
            "takes it away again as long as exported.json lies beside the tables."
        )
