"""``mount-risk forget``: erase a person's name from a store."""

from contextlib import closing

import click

from scoring.cli.screen import counted, say
from scoring.cli.store_options import by_option, named_person, store_option
from scoring.store.forget_person import forget_person
from scoring.store.named_in_words import named_in_words
from scoring.store.open_store import open_store

LISTED = 50
"""So many places are listed one by one; the others are counted. Ours."""


@click.command()
@click.argument("name", metavar="NAME")
@store_option
@by_option
@click.option("--reason", required=True, help="Why, for the history.")
def forget(name: str, store: str, by: str | None, reason: str) -> None:
    """Erase the name of a person wherever the store says who did something.

    The person becomes *erased* and the begin of a key; what they did stays, and the chain of the
    history stays whole. What people wrote in notes and reasons is left, and listed by table, row
    and column; older backups hold the name still.
    """
    with closing(open_store(store)) as opened:
        with opened.writing(named_person(by)) as writing:
            new = forget_person(writing, name, reason)
        say(f"{name} is called {new!r} from now on; backups made before hold the name still")
        with opened.reading() as connection:
            places = list(named_in_words(connection, name))
    if not places:
        return
    say(
        f"In what people wrote themselves the name still stands at {counted(len(places), 'place')}:"
    )
    for place in places[:LISTED]:
        say(f"  {place.table} {place.key}: {place.column}")
    if len(places) > LISTED:
        say(f"  and {len(places) - LISTED} more")
    say(
        "Nothing of these was changed: they are sealed. A record can be entered anew without the "
        "name; the history, and what was signed, keep the words that stood there"
    )
