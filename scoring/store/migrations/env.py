"""Run by alembic: takes the connection it is given; the transaction is the caller's."""

from alembic import context
from sqlalchemy import Connection

from scoring.store.schema import METADATA


def run(connection: Connection) -> None:
    """Run the steps that alembic was asked for."""
    context.configure(
        connection=connection,
        target_metadata=METADATA,
        render_as_batch=connection.dialect.name == "sqlite",
        compare_type=True,
    )
    context.run_migrations()


if hasattr(context, "config"):  # not where it is only imported, as for its documentation
    run(context.config.attributes["connection"])
