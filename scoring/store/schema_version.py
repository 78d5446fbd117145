"""Which schema a store has, and the way from one to the next.

Alembic takes a third of a second to import: only who opens a store waits for it.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, select, text

from scoring.store.schema import RECORDS
from scoring.store.store_errors import OtherSchemaError

if TYPE_CHECKING:
    from alembic.config import Config
    from alembic.script import ScriptDirectory

NEWEST = "head"


def migrations() -> "Config":
    """Return where the steps lie, for alembic."""
    config: Config = import_module("alembic.config").Config()
    config.set_main_option("script_location", "scoring.store:migrations")
    config.set_main_option("path_separator", "os")
    return config


def newest_schema() -> str:
    """Return the name of the schema that this version of the program works with.

    Examples
    --------
    >>> newest_schema() >= "0002"
    True
    """
    return str(_steps().get_current_head())


def _steps() -> "ScriptDirectory":
    found: ScriptDirectory = import_module("alembic.script").ScriptDirectory.from_config(
        migrations()
    )
    return found


def schema_of(connection: Connection) -> str | None:
    """Return the name of a store's schema, none where it has not been prepared."""
    context = import_module("alembic.runtime.migration").MigrationContext
    revision: str | None = context.configure(connection).get_current_revision()
    return revision


def is_empty(inspected: Any) -> bool:  # noqa: ANN401 - what inspect returns has no one type
    """Tell whether a database holds no table at all."""
    return not inspected.get_table_names()


def upgrade(connection: Connection, to: str = NEWEST) -> None:
    """Bring a store to a schema, within the caller's transaction.

    Parameters
    ----------
    connection : Connection
        In a transaction that writes.
    to : str
        Name of the schema; by default the newest.
    """
    config = migrations()
    config.attributes["connection"] = connection
    import_module("alembic.command").upgrade(config, to)


def require_current(connection: Connection, name: str) -> None:
    """Refuse a store whose schema is not the one this program works with.

    Raises
    ------
    OtherSchemaError
        With what to do.
    """
    found, wanted = schema_of(connection), newest_schema()
    if found == wanted:
        _require_columns(connection, name)
        return
    if found is not None:
        require_known(found, name)
    raise OtherSchemaError(
        f"the store {name} has schema {found or 'none'}, this version works with {wanted}; make "
        f"a copy with: mount-risk backup --store {name} --out before.zip, then: mount-risk migrate "
        f"--store {name}"
    )


def _require_columns(connection: Connection, name: str) -> None:
    """Refuse a store that has no place for what this program records.

    Raises
    ------
    OtherSchemaError
        With what to do.
    """
    for table in RECORDS.values():
        there = connection.execute(select(text("*")).select_from(table).limit(0)).keys()
        missing = [column.name for column in table.columns if column.name not in there]
        if missing:
            raise OtherSchemaError(
                f"the store {name} has no column {', '.join(missing)} in its table {table.name}, "
                f"which this version records; run: mount-risk migrate --store {name}. If that "
                "changes nothing, a step of this version is missing: DEVELOPERS.md says under "
                "'Change the store' how to write it"
            )


def require_known(schema: str, name: str) -> None:
    """Refuse a schema of a newer version of this program.

    Raises
    ------
    OtherSchemaError
        With what to do.
    """
    known = {step.revision for step in _steps().walk_revisions()}
    if schema not in known:
        raise OtherSchemaError(
            f"the store {name} has schema {schema}, which this version of the program does not "
            f"know (it works with {newest_schema()}); use the newer version"
        )
