"""Plans and views kept by name."""

import sqlalchemy as sa
from alembic import op

revision, down_revision = "0004", "0003"
branch_labels = None
depends_on = None

PLANS = ("kept_plans", "kept_plan_jobs", "withdrawn_plans")

_REFUSE = "BEGIN SELECT RAISE(ABORT, 'kept plans are only added to'); END"
_SQLITE = (
    f"CREATE TRIGGER {{table}}_is_not_changed BEFORE UPDATE ON {{table}} {_REFUSE}",
    f"CREATE TRIGGER {{table}}_is_not_removed BEFORE DELETE ON {{table}} {_REFUSE}",
)
_POSTGRESQL = (
    """
    CREATE TRIGGER {table}_is_only_added_to BEFORE UPDATE OR DELETE OR TRUNCATE ON {table}
    FOR EACH STATEMENT EXECUTE FUNCTION kept_plans_are_only_added_to()
    """,
)
_FUNCTION = (
    "CREATE FUNCTION kept_plans_are_only_added_to() RETURNS trigger LANGUAGE plpgsql AS "
    "$$ BEGIN RAISE EXCEPTION 'kept plans are only added to'; END $$"
)


def upgrade() -> None:
    """Make the tables; a plan that was kept refuses every change."""
    _create_plans()
    op.create_table(
        "kept_views",
        _text("view_id"),
        _text("name"),
        _text("kept_by"),
        _text("kept_at"),
        _text("page"),
        _text("link"),
        sa.PrimaryKeyConstraint("view_id", name="pk_kept_views"),
        sa.UniqueConstraint("page", "kept_by", "name", name="uq_kept_views_page_kept_by_name"),
        _to("kept_by", "people.name", "kept_views"),
    )
    on_postgresql = op.get_bind().dialect.name == "postgresql"
    if on_postgresql:
        op.execute(_FUNCTION)
    for table in PLANS:
        for statement in _POSTGRESQL if on_postgresql else _SQLITE:
            op.execute(statement.format(table=table))


def _text(name: str, *, may_be_blank: bool = False) -> "sa.Column[str]":
    return sa.Column(name, sa.Text, nullable=may_be_blank)


def _to(column: str, target: str, table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [target], name=f"fk_{table}_{column}")


def _create_plans() -> None:
    op.create_table(
        "kept_plans",
        _text("plan_id"),
        _text("name"),
        _text("kept_by"),
        _text("kept_at"),
        _text("as_of"),
        sa.Column("horizon_days", sa.Integer, nullable=False),
        _text("link"),
        sa.PrimaryKeyConstraint("plan_id", name="pk_kept_plans"),
        _to("kept_by", "people.name", "kept_plans"),
    )
    op.create_table(
        "kept_plan_jobs",
        _text("plan_id"),
        sa.Column("order", sa.Integer, nullable=False),
        _text("window"),
        _text("starts_on", may_be_blank=True),
        _text("unit_id"),
        _text("site", may_be_blank=True),
        _text("line", may_be_blank=True),
        _text("verdict"),
        _text("verdict_after"),
        _text("actions"),
        sa.Column("hours", sa.Double, nullable=False),
        sa.Column("loss_avoided", sa.Double, nullable=False),
        _text("currency", may_be_blank=True),
        sa.PrimaryKeyConstraint("plan_id", "order", name="pk_kept_plan_jobs"),
        _to("plan_id", "kept_plans.plan_id", "kept_plan_jobs"),
    )
    op.create_table(
        "withdrawn_plans",
        _text("plan_id"),
        _text("withdrawn_by"),
        _text("withdrawn_at"),
        sa.PrimaryKeyConstraint("plan_id", name="pk_withdrawn_plans"),
        _to("plan_id", "kept_plans.plan_id", "withdrawn_plans"),
        _to("withdrawn_by", "people.name", "withdrawn_plans"),
    )


def downgrade() -> None:
    """Remove the tables."""
    on_postgresql = op.get_bind().dialect.name == "postgresql"
    for table in ("kept_views", *reversed(PLANS)):
        op.drop_table(table)
    if on_postgresql:
        op.execute("DROP FUNCTION kept_plans_are_only_added_to()")
