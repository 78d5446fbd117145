"""``mount-risk restore``: put a backup into an empty database."""

from pathlib import Path

import click

from scoring.cli.screen import counted, err, say
from scoring.cli.store_options import store_option
from scoring.store.restore_backup import restore_backup


@click.command()
@click.argument("file", metavar="FILE", type=click.Path(path_type=Path, dir_okay=False))
@store_option
def restore(file: Path, store: str) -> None:
    """Put the backup FILE into an empty database: all of it, or on any error nothing.

    A backup of SQLite may go into PostgreSQL, and the other way round. An older one is brought to
    this version's schema.
    """
    with err.status("restoring"):
        done = restore_backup(file, store)
    rows = counted(sum(done.rows.values()), "row")
    say(f"{done.name} holds the {rows} of the backup made at {done.made_at}")
    if done.before != done.after:
        say(f"it went from schema {done.before} to {done.after}")
    say(f"See that it is sound: mount-risk check {done.name}")
