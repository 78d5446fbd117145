"""The history as a chain in which every change shows, and keys of persons in it."""

import secrets

import sqlalchemy as sa
from alembic import op

from scoring.store.chain import key_of_person, seals

revision, down_revision = "0005", "0004"
branch_labels = None
depends_on = None

_NOW_ADDED_TO = {"sign_offs": "signatures are", "releases": "releases are"}
_KEYS = {
    "history": ("history_id",),
    "sign_offs": ("walkdown_id", "version"),
    "releases": ("release_id",),
    "kept_plans": ("plan_id",),
    "kept_plan_jobs": ("plan_id", "order"),
    "withdrawn_plans": ("plan_id",),
}
_WORDS = {
    "history": "history is",
    **_NOW_ADDED_TO,
    **dict.fromkeys(("kept_plans", "kept_plan_jobs", "withdrawn_plans"), "kept plans are"),
}
_LINE = ("at", "actor", "about", "key", "unit_id", "change", "version", "reason", "before", "after")


def upgrade() -> None:
    """Give each person a key, seal what is there, and make the triggers that were missing."""
    for name in ("person_key", "salt"):
        op.add_column("people", sa.Column(name, sa.Text))
    op.add_column("history", sa.Column("seal", sa.Text))
    op.create_table(
        "chain_begins",
        sa.Column("store_id", sa.Text, nullable=False),
        sa.Column("earlier_lines", sa.Integer, nullable=False),
        sa.Column("earlier_seal", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("store_id", name="pk_chain_begins"),
    )
    _begin(op.get_bind())
    _make_triggers()


def _begin(connection: sa.Connection) -> None:
    names = [row.name for row in connection.execute(sa.text("SELECT name FROM people"))]
    keys = {}
    for name in names:
        salt = secrets.token_hex(16)
        keys[name] = key_of_person(name, salt)
        connection.execute(
            sa.text("UPDATE people SET person_key = :key, salt = :salt WHERE name = :name"),
            {"key": keys[name], "salt": salt, "name": name},
        )
    columns = ", ".join(f'"{name}"' for name in _LINE)
    lines = connection.execute(sa.text(f"SELECT {columns} FROM history ORDER BY history_id"))  # noqa: S608 - our own columns
    count, seal = 0, ""
    for line in lines:
        (seal,) = seals(seal, [line._asdict()], keys)
        count += 1
    connection.execute(
        sa.text("INSERT INTO chain_begins VALUES (:store_id, :count, :seal)"),
        {"store_id": secrets.token_hex(16), "count": count, "seal": seal},
    )


def _make_triggers() -> None:
    if op.get_bind().dialect.name == "postgresql":
        for table, words in _NOW_ADDED_TO.items():
            function = f"{table}_are_only_added_to"
            op.execute(
                f"CREATE FUNCTION {function}() RETURNS trigger LANGUAGE plpgsql AS "
                f"$$ BEGIN RAISE EXCEPTION '{words} only added to'; END $$"
            )
            op.execute(
                f"CREATE TRIGGER {table}_is_only_added_to BEFORE UPDATE OR DELETE OR TRUNCATE "
                f"ON {table} FOR EACH STATEMENT EXECUTE FUNCTION {function}()"
            )
        return
    for table, keys in _KEYS.items():
        words = _WORDS[table]
        same = " AND ".join(f'"{key}" = NEW."{key}"' for key in keys)
        there = f"EXISTS (SELECT 1 FROM {table} WHERE {same})"  # noqa: S608 - our own names
        kinds = {"replaced": f"INSERT ON {table} WHEN {there}"}
        if table in _NOW_ADDED_TO:
            kinds |= {"changed": f"UPDATE ON {table}", "removed": f"DELETE ON {table}"}
        for name, when in kinds.items():
            op.execute(
                f"CREATE TRIGGER {table}_is_not_{name} BEFORE {when} "
                f"BEGIN SELECT RAISE(ABORT, '{words} only added to'); END"
            )


def downgrade() -> None:
    """Remove the chain; seals are lost."""
    on_postgresql = op.get_bind().dialect.name == "postgresql"
    for table in _KEYS:
        if on_postgresql and table in _NOW_ADDED_TO:
            op.execute(f"DROP TRIGGER {table}_is_only_added_to ON {table}")
            op.execute(f"DROP FUNCTION {table}_are_only_added_to()")
        elif not on_postgresql:
            op.execute(f"DROP TRIGGER {table}_is_not_replaced")
            if table in _NOW_ADDED_TO:
                op.execute(f"DROP TRIGGER {table}_is_not_changed")
                op.execute(f"DROP TRIGGER {table}_is_not_removed")
    op.drop_table("chain_begins")
    op.drop_column("history", "seal")
    op.drop_column("people", "salt")
    op.drop_column("people", "person_key")
