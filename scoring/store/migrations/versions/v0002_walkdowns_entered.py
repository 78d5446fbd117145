"""Walkdowns being entered: drafts, photos, sign-offs, releases; units of measure of people."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables; whoever is known already reads in metric units."""
    op.add_column("people", sa.Column("measures", sa.Text, nullable=False, server_default="metric"))
    _create_drafts()
    _create_photos()
    _create_what_is_signed()


def _to(column: str, target: str, table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [target], name=f"fk_{table}_{column}")


def _create_drafts() -> None:
    op.create_table(
        "drafts",
        sa.Column("draft_id", sa.Text, nullable=False),
        sa.Column("unit_id", sa.Text, nullable=False),
        sa.Column("walkdown_id", sa.Text, nullable=False),
        sa.Column("status", sa.Text, nullable=False),
        sa.Column("started_by", sa.Text, nullable=False),
        sa.Column("started_at", sa.Text, nullable=False),
        sa.Column("changed_at", sa.Text, nullable=False),
        sa.Column("corrects_version", sa.Integer),
        sa.PrimaryKeyConstraint("draft_id", name="pk_drafts"),
        _to("unit_id", "units.unit_id", "drafts"),
        _to("started_by", "people.name", "drafts"),
    )
    op.create_index("ix_drafts_unit_id", "drafts", ["unit_id"])
    op.create_index("ix_drafts_walkdown_id", "drafts", ["walkdown_id"])
    op.create_table(
        "draft_answers",
        sa.Column("draft_id", sa.Text, nullable=False),
        sa.Column("field", sa.Text, nullable=False),
        sa.Column("heading", sa.Text, nullable=False),
        sa.Column("value", sa.Text, nullable=False),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("by", sa.Text, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("client", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("draft_id", "field", name="pk_draft_answers"),
        _to("draft_id", "drafts.draft_id", "draft_answers"),
        _to("by", "people.name", "draft_answers"),
    )


def _create_photos() -> None:
    op.create_table(
        "photos",
        sa.Column("photo_id", sa.Text, nullable=False),
        sa.Column("draft_id", sa.Text),
        sa.Column("walkdown_id", sa.Text, nullable=False),
        sa.Column("check", sa.Text, nullable=False),
        sa.Column("taken_by", sa.Text, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("width", sa.Integer, nullable=False),
        sa.Column("height", sa.Integer, nullable=False),
        sa.Column("digest", sa.Text, nullable=False),
        sa.Column("jpeg", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("photo_id", name="pk_photos"),
        sa.UniqueConstraint(
            "walkdown_id", "check", "digest", name="uq_photos_walkdown_id_check_digest"
        ),
        _to("draft_id", "drafts.draft_id", "photos"),
        _to("taken_by", "people.name", "photos"),
    )


def _create_what_is_signed() -> None:
    op.create_table(
        "not_seen",
        sa.Column("walkdown_id", sa.Text, nullable=False),
        sa.Column("check", sa.Text, nullable=False),
        sa.Column("reason", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("walkdown_id", "check", name="pk_not_seen"),
        _to("walkdown_id", "walkdowns.walkdown_id", "not_seen"),
    )
    op.create_table(
        "sign_offs",
        sa.Column("walkdown_id", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("signed_by", sa.Text, nullable=False),
        sa.Column("signed_at", sa.Text, nullable=False),
        sa.Column("verdict", sa.Text, nullable=False),
        sa.Column("holds", sa.Text, nullable=False),
        sa.Column("told", sa.Text),
        sa.PrimaryKeyConstraint("walkdown_id", "version", name="pk_sign_offs"),
        _to("walkdown_id", "walkdowns.walkdown_id", "sign_offs"),
        _to("signed_by", "people.name", "sign_offs"),
    )
    op.create_table(
        "releases",
        sa.Column("release_id", sa.Text, nullable=False),
        sa.Column("unit_id", sa.Text, nullable=False),
        sa.Column("released_by", sa.Text, nullable=False),
        sa.Column("released_at", sa.Text, nullable=False),
        sa.Column("verdict", sa.Text, nullable=False),
        sa.Column("reason", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("release_id", name="pk_releases"),
        _to("unit_id", "units.unit_id", "releases"),
        _to("released_by", "people.name", "releases"),
    )
    op.create_index("ix_releases_unit_id", "releases", ["unit_id"])


def downgrade() -> None:
    """Remove the tables."""
    for table in ("releases", "sign_offs", "not_seen", "photos", "draft_answers", "drafts"):
        op.drop_table(table)
    op.drop_column("people", "measures")
