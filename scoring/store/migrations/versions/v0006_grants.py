"""Roles and sites of persons who sign in."""

import sqlalchemy as sa
from alembic import op

revision, down_revision = "0006", "0005"
branch_labels = None
depends_on = None

_REFUSE = "BEGIN SELECT RAISE(ABORT, 'grants are only added to'); END"
_THERE = 'EXISTS (SELECT 1 FROM grants WHERE "grant_id" = NEW."grant_id")'
_SQLITE = (
    f"CREATE TRIGGER grants_is_not_changed BEFORE UPDATE ON grants {_REFUSE}",
    f"CREATE TRIGGER grants_is_not_removed BEFORE DELETE ON grants {_REFUSE}",
    f"CREATE TRIGGER grants_is_not_replaced BEFORE INSERT ON grants WHEN {_THERE} {_REFUSE}",
)
_POSTGRESQL = (
    """
    CREATE FUNCTION grants_are_only_added_to() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN RAISE EXCEPTION 'grants are only added to'; END $$
    """,
    """
    CREATE TRIGGER grants_is_only_added_to BEFORE UPDATE OR DELETE OR TRUNCATE ON grants
    FOR EACH STATEMENT EXECUTE FUNCTION grants_are_only_added_to()
    """,
)


def upgrade() -> None:
    """Make the table; a grant refuses every change."""
    texts = ("issuer", "subject", "subject_key", "roles", "sites")
    op.create_table(
        "grants",
        sa.Column("grant_id", sa.BigInteger, nullable=False),
        _text("granted_to"),
        *(_text(name) for name in texts),
        _text("granted_by"),
        _text("granted_at"),
        sa.PrimaryKeyConstraint("grant_id", name="pk_grants"),
        *(
            sa.ForeignKeyConstraint([name], ["people.name"], name=f"fk_grants_{name}")
            for name in ("granted_to", "granted_by")
        ),
    )
    op.create_index("ix_grants_issuer_subject", "grants", ["issuer", "subject"])
    on_postgresql = op.get_bind().dialect.name == "postgresql"
    for statement in _POSTGRESQL if on_postgresql else _SQLITE:
        op.execute(statement)


def _text(name: str) -> "sa.Column[str]":
    return sa.Column(name, sa.Text, nullable=False)


def downgrade() -> None:
    """Remove the table."""
    op.drop_table("grants")
    if op.get_bind().dialect.name == "postgresql":
        op.execute("DROP FUNCTION grants_are_only_added_to()")
