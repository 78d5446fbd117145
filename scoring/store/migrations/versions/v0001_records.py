"""The records of the contract, people, and the history of every change."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

RUNNING_NUMBER = sa.BigInteger().with_variant(sa.Integer, "sqlite")

KEYS = {
    "units": "unit_id",
    "walkdowns": "walkdown_id",
    "events": "event_id",
    "rework": "rework_id",
    "accepted": "accepted_id",
}
REQUIRED = {
    "units": """
        unit_id site installed_on mounting shaft_diameter_mm
    """,
    "walkdowns": """
        walkdown_id unit_id inspected_on kind
    """,
    "events": """
        event_id unit_id occurred_on mode
    """,
    "rework": """
        rework_id unit_id done_on actions
    """,
    "accepted": """
        accepted_id unit_id check accepted_by reason accepted_on until_on
    """,
}
TEXTS = {
    "units": """
        unit_id asset_id site line driven_equipment installer installed_on
        started_on out_of_service_on failures_recorded_from mounting shaft_tolerance
        bearing_kind screw_thread seal_material environment currency
    """,
    "walkdowns": """
        walkdown_id unit_id inspected_on kind recorded_at inspector notes
        bore_condition clamp_seat_condition seated support_bushings shaft_end
        key_condition retention tightening_order arm_bolts isolator_stack
        metal_contact breather oil_level guard seal_weep
    """,
    "events": """
        event_id unit_id occurred_on mode recorded_at crew notes
    """,
    "rework": """
        rework_id unit_id done_on actions recorded_at event_id crew notes
    """,
    "accepted": """
        accepted_id unit_id check accepted_by reason accepted_on until_on
    """,
}
NUMBERS = {
    "units": """
        shaft_diameter_mm required_engagement_mm shaft_low_mm shaft_high_mm
        output_torque_nm peak_factor output_speed_rpm motor_power_kw duty_h_per_day
        joint_rated_torque_nm unit_mass_kg arm_length_mm bearing_span_mm
        arm_offset_mm shaft_support_distance_mm hub_outer_mm clamp_length_mm
        bearing_dynamic_rating_n isolator_outer_mm isolator_inner_mm
        isolator_thickness_mm isolator_hardness_shore_a screw_torque_nm
        collar_gap_min_mm collar_gap_max_mm ambient_c downtime_cost_per_h
        bearing_repair_cost bearing_repair_h leak_repair_cost leak_repair_h
    """,
    "walkdowns": """
        engagement_mm shaft_diameter_measured_mm shaft_runout_mm final_torque_nm
        collar_gap_mm disc_offset_mm isolator_squeeze_mm smallest_clearance_mm
        arm_misset_mm arm_angle_deg running_temperature_c vibration_mm_s
    """,
    "events": """
        downtime_h cost
    """,
    "rework": """
        hours
    """,
}
COUNTS = {
    "units": """
        screw_count torque_passes_required
    """,
    "walkdowns": """
        torque_passes screws_low isolators_free
    """,
    "rework": """
        crew_size
    """,
}

ONLY_ADDED_TO = {
    "sqlite": """
        CREATE TRIGGER history_is_not_changed BEFORE UPDATE ON history
        BEGIN SELECT RAISE(ABORT, 'history is only added to'); END;
        CREATE TRIGGER history_is_not_removed BEFORE DELETE ON history
        BEGIN SELECT RAISE(ABORT, 'history is only added to'); END
    """,
    "postgresql": """
        CREATE FUNCTION history_is_only_added_to() RETURNS trigger LANGUAGE plpgsql AS
        $$ BEGIN RAISE EXCEPTION 'history is only added to'; END $$;
        CREATE TRIGGER history_is_only_added_to BEFORE UPDATE OR DELETE OR TRUNCATE ON history
        FOR EACH STATEMENT EXECUTE FUNCTION history_is_only_added_to()
    """,
}
"""By database: what makes the history refuse every change."""


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "people",
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("since", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_people"),
    )
    for table, key in KEYS.items():
        _create_records(table, key)
    op.create_table(
        "history",
        sa.Column("history_id", RUNNING_NUMBER, autoincrement=True, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("about", sa.Text, nullable=False),
        sa.Column("key", sa.Text, nullable=False),
        sa.Column("unit_id", sa.Text),
        sa.Column("change", sa.Text, nullable=False),
        sa.Column("version", sa.Integer),
        sa.Column("reason", sa.Text),
        sa.Column("before", sa.Text),
        sa.Column("after", sa.Text),
        sa.PrimaryKeyConstraint("history_id", name="pk_history"),
        sa.ForeignKeyConstraint(["actor"], ["people.name"], name="fk_history_actor"),
    )
    op.create_index("ix_history_about_key", "history", ["about", "key"])
    op.create_index("ix_history_about_history_id", "history", ["about", "history_id"])
    op.create_index("ix_history_unit_id", "history", ["unit_id"])
    for statement in ONLY_ADDED_TO[op.get_bind().dialect.name].split("CREATE ")[1:]:
        op.execute(f"CREATE {statement.strip().removesuffix(';')}")
    op.create_table(
        "loads",
        sa.Column("load_id", RUNNING_NUMBER, autoincrement=True, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("source", sa.Text, nullable=False),
        sa.Column("added", sa.Integer, nullable=False),
        sa.Column("changed", sa.Integer, nullable=False),
        sa.Column("same", sa.Integer, nullable=False),
        sa.Column("rejected", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("load_id", name="pk_loads"),
        sa.ForeignKeyConstraint(["actor"], ["people.name"], name="fk_loads_actor"),
    )


def _create_records(table: str, key: str) -> None:
    required = REQUIRED[table].split()
    kinds = ((TEXTS, sa.Text), (NUMBERS, sa.Double), (COUNTS, sa.Integer))
    columns: list[sa.Column[object]] = [
        sa.Column(name, sql_type, nullable=name not in required)
        for names, sql_type in kinds
        for name in names.get(table, "").split()
    ]
    own: list[sa.schema.SchemaItem] = [
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("digest", sa.Text, nullable=False),
        sa.Column("withdrawn", sa.Boolean, nullable=False),
        sa.PrimaryKeyConstraint(key, name=f"pk_{table}"),
    ]
    if table == "units":
        op.create_table(table, *columns, *own)
        return
    to_units = sa.ForeignKeyConstraint(["unit_id"], ["units.unit_id"], name=f"fk_{table}_unit_id")
    op.create_table(table, *columns, *own, to_units)
    op.create_index(f"ix_{table}_unit_id", table, ["unit_id"])


def downgrade() -> None:
    """Remove the tables."""
    if op.get_bind().dialect.name == "postgresql":
        op.execute("DROP TRIGGER history_is_only_added_to ON history")
        op.execute("DROP FUNCTION history_is_only_added_to()")
    for table in ("loads", "history", *reversed(KEYS), "people"):
        op.drop_table(table)
