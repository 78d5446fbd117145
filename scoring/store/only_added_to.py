"""The triggers by which a database refuses to change what is only added to.

They keep programs and people from slips. Who owns the database can drop them; that this shows is
the matter of ``verify_store``.
"""

from sqlalchemy import Connection, text

ONLY_ADDED_TO = {
    "history": "history is",
    "sign_offs": "signatures are",
    "releases": "releases are",
    "kept_plans": "kept plans are",
    "kept_plan_jobs": "kept plans are",
    "withdrawn_plans": "kept plans are",
    "grants": "grants are",
}
"""By table, how the refusal begins."""

KEYS = {
    "history": ("history_id",),
    "sign_offs": ("walkdown_id", "version"),
    "releases": ("release_id",),
    "kept_plans": ("plan_id",),
    "kept_plan_jobs": ("plan_id", "order"),
    "withdrawn_plans": ("plan_id",),
    "grants": ("grant_id",),
}


def triggers(dialect: str) -> dict[str, str]:
    """Return what each trigger does, by its name.

    Parameters
    ----------
    dialect : str
        ``sqlite``: the statements that make them; ``postgresql``: what their functions run.

    Examples
    --------
    >>> len(triggers("sqlite")), len(triggers("postgresql"))
    (21, 7)
    """
    if dialect == "postgresql":
        return {
            f"{table}_is_only_added_to": f"BEGIN RAISE EXCEPTION '{begin} only added to'; END"
            for table, begin in ONLY_ADDED_TO.items()
        }
    made: dict[str, str] = {}
    for table, begin in ONLY_ADDED_TO.items():
        same = " AND ".join(f'"{key}" = NEW."{key}"' for key in KEYS[table])
        there = f" WHEN EXISTS (SELECT 1 FROM {table} WHERE {same})"  # noqa: S608 - our own names
        for name, when, only_if in (
            ("changed", "UPDATE", ""),
            ("removed", "DELETE", ""),
            ("replaced", "INSERT", there),  # OR REPLACE removes without asking the others
        ):
            made[f"{table}_is_not_{name}"] = (
                f"CREATE TRIGGER {table}_is_not_{name} BEFORE {when} ON {table}{only_if} "
                f"BEGIN SELECT RAISE(ABORT, '{begin} only added to'); END"
            )
    return made


def faults_of_triggers(connection: Connection) -> list[str]:
    """Return which triggers are missing, are others, or were switched off."""
    dialect = connection.dialect.name
    there = _of_sqlite(connection) if dialect == "sqlite" else _of_postgresql(connection)
    wanted = triggers(dialect)
    faults = [
        f"the trigger {name}, which keeps what is there from being changed, "
        + ("is missing" if name not in there else "is another one or was switched off")
        for name, made in wanted.items()
        if there.get(name) != made
    ]
    return faults + [
        f"there is a trigger {name} that this program did not make"
        for name in there
        if name not in wanted
    ]


def lift(connection: Connection) -> None:
    """Let what is only added to be changed, until ``restore`` within the same transaction."""
    _switch(connection, on=False)


def restore(connection: Connection) -> None:
    """Let nothing be changed again."""
    _switch(connection, on=True)


def _switch(connection: Connection, *, on: bool) -> None:
    if connection.dialect.name == "sqlite":
        for name, made in triggers("sqlite").items():
            connection.execute(text(made if on else f"DROP TRIGGER {name}"))
        return
    for table in ONLY_ADDED_TO:
        word = "ENABLE" if on else "DISABLE"
        connection.execute(text(f"ALTER TABLE {table} {word} TRIGGER {table}_is_only_added_to"))


def _of_sqlite(connection: Connection) -> dict[str, str]:
    rows = connection.execute(text("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"))
    return {str(name): " ".join(str(made).split()) for name, made in rows}


def _of_postgresql(connection: Connection) -> dict[str, str]:
    """Return the text of the function of each trigger of ours that is on."""
    rows = connection.execute(
        text(
            "SELECT t.tgname, p.prosrc FROM pg_trigger t JOIN pg_proc p ON p.oid = t.tgfoid "
            "JOIN pg_class c ON c.oid = t.tgrelid JOIN pg_namespace n ON n.oid = c.relnamespace "
            "WHERE NOT t.tgisinternal AND t.tgenabled = 'O' AND n.nspname = current_schema()"
        )
    )
    return {str(name): str(body).strip() for name, body in rows}
