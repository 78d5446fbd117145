"""``mount-risk forget``: erase a person's name from a store."""

from contextlib import closing

import click

from scoring.cli.screen import say
from scoring.cli.store_options import by_option, named_person, store_option
from scoring.store.forget_person import forget_person
from scoring.store.open_store import open_store


@click.command()
@click.argument("name", metavar="NAME")
@store_option
@by_option
@click.option("--reason", required=True, help="Why, for the history.")
def forget(name: str, store: str, by: str | None, reason: str) -> None:
    """Erase the name of a person wherever the store says who did something.

    The person becomes *erased* and the begin of a key; what they did stays, and the chain of the
    history stays whole. What people wrote in notes and reasons is left; older backups hold the
    name still.
    """
    with closing(open_store(store)) as opened, opened.writing(named_person(by)) as writing:
        new = forget_person(writing, name, reason)
    say(f"{name} is called {new!r} from now on; backups made before hold the name still")
