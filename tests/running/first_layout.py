"""A store as the first version of this program left it."""

import sqlite3
from contextlib import closing
from pathlib import Path

import psycopg

FROZEN = Path(__file__).parents[1] / "store" / "data" / "schema_0001.sql"
"""A store as the first version laid it out and filled it; never to be changed."""


def lay_out_as_first(url):
    """Run the frozen statements of the first schema, without any of today's code."""
    kind = "sqlite" if url.startswith("sqlite") else "postgresql"
    parts = FROZEN.read_text(encoding="utf-8").split("-- only ")
    statements = parts[0] + "".join(
        part.partition("\n")[2] for part in parts[1:] if part.startswith((kind, "both"))
    )
    if kind == "sqlite":
        with closing(sqlite3.connect(url.removeprefix("sqlite:///"))) as connection:
            connection.executescript(statements)
        return
    with psycopg.connect(url) as connection:
        connection.execute(statements)
