"""``mount-risk verify``: what of a store was changed past this program."""

from pathlib import Path

import click

from scoring.cli.screen import counted, err, say, warn
from scoring.errors import FaultyRecordsError
from scoring.store.head_file import read_head, write_head
from scoring.store.verified import verify as verified


@click.command()
@click.argument("where", metavar="STORE|BACKUP")
@click.option(
    "--head",
    type=click.Path(path_type=Path, dir_okay=False),
    help="A head that was kept elsewhere: shows a cut end, a chain made anew, another store.",
)
@click.option(
    "--head-out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the head of the chain here, to be kept where nobody of the store can write.",
)
def verify(where: str, head: Path | None, head_out: Path | None) -> None:
    """Tell what of a store or a backup was changed past this program.

    Every line of the history is sealed together with all before it, and all that a store holds is
    told by its history. A line that was changed, removed, added or moved shows, a record or a
    signature that the history does not tell, a trigger that is missing. What can only be seen
    with a head kept elsewhere: lines cut off at the end with all that they tell, and a chain that
    somebody made wholly anew.
    """
    kept = read_head(head) if head is not None else None
    with err.status("verifying"):
        found = verified(where, kept)
    for remark in found.remarks:
        warn(remark)
    for fault in found.faults:
        say(fault)
    if found.faults:
        raise FaultyRecordsError(
            f"{counted(len(found.faults), 'fault')}; restore a backup of before, and compare"
        )
    say(f"nothing was changed past this program: {counted(found.head.lines, 'line')} of history")
    if kept is None:
        say("beside a head kept elsewhere a cut end would show, too: --head FILE")
    if head_out is not None:
        write_head(found.head, head_out)
        say(f"{head_out}: the head; keep it where nobody who writes to the store can write")
