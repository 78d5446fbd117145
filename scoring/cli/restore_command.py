"""``mount-risk restore``: put a backup into an empty database."""

from pathlib import Path

import click

from scoring.cli.screen import counted, err, say
from scoring.cli.store_options import store_option
from scoring.errors import FaultyRecordsError
from scoring.store.restore_backup import restore_backup
from scoring.store.verified import verify


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
    with err.status("verifying"):
        faults = verify(store).faults
    for fault in faults:
        say(fault)
    if faults:
        raise FaultyRecordsError(
            f"{counted(len(faults), 'fault')}: what the backup was made of had been changed past "
            f"this program; {done.name} holds it as it was"
        )
    say("nothing in it was changed past this program")
