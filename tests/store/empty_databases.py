"""Empty databases on a server of PostgreSQL."""

import secrets

import psycopg


def new_database(server):
    """Make an empty database on the server; return its address."""
    name = f"t{secrets.token_hex(6)}"
    with psycopg.connect(f"{server}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    return f"{server}/{name}"
