"""What could not be written down before: more checks, their details, slips and stoppages."""

from scoring.store.migrations.columns_added import Step, columns_added

revision, down_revision = "0003", "0002"
branch_labels = None
depends_on = None

_STEPS: tuple[tuple[Step, Step], ...] = (
    columns_added(
        "units",
        texts="slips_recorded_from backstop",
        numbers="starts_per_day slip_repair_cost slip_repair_h",
        counts="walk_order",
    ),
    columns_added(
        "walkdowns",
        texts="witness_mark shaft_seat screws_rechecked mounting_position oil_condition seal_lip "
        "backstop_direction contact_at seal_side",
        counts="screws_missing",
    ),
    columns_added("events", texts="stoppage_id seal_side"),
    columns_added("rework", texts="seal_side"),
)


def upgrade() -> None:
    """Add the columns, blank in every record."""
    for add, _ in _STEPS:
        add()


def downgrade() -> None:
    """Remove them."""
    for _, remove in reversed(_STEPS):
        remove()
