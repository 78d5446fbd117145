"""Run by alembic: takes the connection it is given; the transaction is the caller's."""

from alembic import context

from scoring.store.schema import METADATA

connection = context.config.attributes["connection"]
context.configure(
    connection=connection,
    target_metadata=METADATA,
    render_as_batch=connection.dialect.name == "sqlite",
    compare_type=True,
)
context.run_migrations()
