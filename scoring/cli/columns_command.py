"""``mount-risk columns``: what every column means, and every word."""

import click

from scoring.cli.screen import say
from scoring.contract import FLEET_TABLES
from scoring.contract.glossary import GLOSSARY
from scoring.files.template import explain_columns


@click.command()
@click.argument("table", type=click.Choice([t.name for t in FLEET_TABLES]), required=False)
def columns(table: str | None) -> None:
    """Explain the columns of TABLE, or of all tables and the words used here."""
    explained = explain_columns()
    for one in FLEET_TABLES:
        if table not in (None, one.name):
            continue
        say(f"{one.name}: one row, {one.row_is}{'' if one.needed else ' (may be left out)'}")
        for row in explained[explained["table"] == one.name].to_dict("records"):
            say(f"  {row['column']}{' (required)' if row['required'] else ''}: {row['meaning']}")
            say(f"      allowed: {row['allowed']}")
            if row["also_as"]:
                say(f"      also as: {row['also_as']}")
            if row["how_to_look"]:
                say(f"      how to look: {row['how_to_look']}")
                say(f"      seen {row['seen']}; {row['worse']}; for {row['mountings']}")
        say("")
    if table is None:
        say("Words used here")
        for term in GLOSSARY:
            say(f"  {term.word}: {term.meaning}")
