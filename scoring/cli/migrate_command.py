"""``mount-risk migrate``: prepare a store, or bring an older one to the newest schema."""

import click

from scoring.cli.screen import say
from scoring.cli.store_options import store_option
from scoring.store.migrate_store import migrate_store


@click.command()
@store_option
def migrate(store: str) -> None:
    """Lay out an empty database as a store, or bring an older store to this version's schema.

    A store on SQLite is copied first, to a file beside it. Make a backup of one on PostgreSQL:
    mount-risk backup.
    """
    done = migrate_store(store)
    if done.copy is not None:
        say(f"a copy of it as it was: {done.copy}")
    if done.before is None:
        say(f"{done.name} is prepared, schema {done.after}")
    elif done.before == done.after:
        say(f"{done.name} has schema {done.after} already; nothing was changed")
    else:
        say(f"{done.name} went from schema {done.before} to {done.after}")
