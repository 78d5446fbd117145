"""``mount-risk backup``: all that a store holds, in one file."""

from pathlib import Path

import click

from scoring.cli.screen import counted, err, say
from scoring.cli.store_options import store_option
from scoring.store.write_backup import back_up


@click.command()
@store_option
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    required=True,
    help="The file to write: FILE.zip.",
)
def backup(store: str, out: Path) -> None:
    """Write all that a store holds to one file: records, history, drafts, photos, sign-offs.

    Others may go on writing meanwhile; the file holds one moment. mount-risk restore puts it into
    an empty database, be that SQLite or PostgreSQL.
    """
    with err.status("writing the backup"):
        kept = back_up(store, out)
    rows = sum(table.rows for table in kept)
    say(f"{out}: {counted(len(kept), 'table')}, {counted(rows, 'row')}")
