"""The table of faults: one entry for every check that is a cause."""

from demo_data.fault_model import CHECK_NAMES, FaultModel, Level, Outcome, Scale

_C, _H, _HC = Level.CORRECT, Level.HOLD, Level.HOLD_IF_CLAMPED


def _surface(check: str, rate: float) -> FaultModel:
    return FaultModel(
        check=check,
        outcomes=(
            Outcome("clean_dry", 1),
            Outcome("dust_or_dirt", 0.65, _C, 0.4),
            Outcome("oil_film", 0.20, _HC, 0.8),
            Outcome("antiseize_or_grease", 0.15, _HC, 1.0),
        ),
        hang_rate=rate,
    )


_ENTRIES: tuple[FaultModel, ...] = (
    _surface("bore_condition", 0.05),
    _surface("clamp_seat_condition", 0.055),
    FaultModel(
        check="seated",
        outcomes=(Outcome("home", 1), Outcome("short", 1, _C, 1)),
        hang_rate=0.02,
    ),
    FaultModel(
        check="support_bushings",
        outcomes=(
            Outcome("seated", 1),
            Outcome("proud", 0.75, _C, 0.6),
            Outcome("missing", 0.25, _H, 1),
        ),
        hang_rate=0.05,
    ),
    FaultModel(
        check="engagement_mm",
        outcomes=(
            Outcome("", 1, low=1.06, high=1.3, scale=Scale.ENGAGEMENT),
            Outcome("", 1, _HC, 1, 0.62, 0.95, Scale.ENGAGEMENT),
        ),
        hang_rate=0.022,
        seen=0.55,
        behind_guard=True,
        reading_error=2.0,
    ),
    FaultModel(
        check="shaft_end",
        outcomes=(Outcome("reaches", 1), Outcome("short", 1, _HC, 1)),
        hang_rate=0.0,
        seen=0.85,
        behind_guard=True,
    ),
    FaultModel(
        check="shaft_diameter_measured_mm",
        outcomes=(
            Outcome("", 1, low=0.2, high=0.8, scale=Scale.SHAFT),
            Outcome("", 0.85, _C, 1, -1.2, -0.35, Scale.SHAFT),
            Outcome("", 0.15, _C, 0.5, 1.35, 1.9, Scale.SHAFT),
        ),
        hang_rate=0.06,
        belongs_to_shaft=True,
        seen=0.65,
        reading_error=0.002,
        decimals=3,
    ),
    FaultModel(
        check="shaft_runout_mm",
        outcomes=(
            Outcome("", 1, low=0.02, high=0.2),
            Outcome("", 0.65, _C, 0.55, 0.28, 0.5),
            Outcome("", 0.35, _C, 1, 0.5, 1.1),
        ),
        hang_rate=0.09,
        belongs_to_shaft=True,
        seen=0.85,
        needs_instrument=True,
        reading_error=0.02,
        decimals=2,
    ),
    FaultModel(
        check="key_condition",
        outcomes=(
            Outcome("right", 1),
            Outcome("loose", 0.55, _C, 0.7),
            Outcome("short", 0.3, _C, 0.7),
            Outcome("missing", 0.15, _H, 1),
        ),
        hang_rate=0.08,
    ),
    FaultModel(
        check="retention",
        outcomes=(
            Outcome("tight", 1),
            Outcome("loose", 0.75, _C, 0.6),
            Outcome("missing", 0.25, _H, 1),
        ),
        hang_rate=0.03,
        service_rate=0.00075,
        seen=0.81,
        behind_guard=True,
    ),
    FaultModel(
        check="torque_passes",
        outcomes=(
            Outcome("", 1, low=1, high=1, scale=Scale.PASSES),
            Outcome("", 0.61, _C, 1, 1, 1),
            Outcome("", 0.33, _C, 0.5, 2, 2),
            Outcome("", 0.06, _H, 1, 0, 0),
        ),
        hang_rate=0.09,
        seen=0.81,
    ),
    FaultModel(
        check="tightening_order",
        outcomes=(
            Outcome("right", 1),
            Outcome("wrong", 0.6, _C, 0.7),
            Outcome("no_order", 0.4, _C, 1),
        ),
        hang_rate=0.06,
        seen=0.73,
    ),
    FaultModel(
        check="final_torque_nm",
        outcomes=(
            Outcome("", 1, low=0.985, high=1.02, scale=Scale.TORQUE),
            Outcome("", 0.35, _H, 1, 0.7, 0.94, Scale.TORQUE),
            Outcome("", 0.65, _C, 0.5, 1.06, 1.25, Scale.TORQUE),
        ),
        hang_rate=0.03,
        service_rate=0.0006,
        seen=0.69,
        behind_guard=True,
        reading_error=0.25,
        decimals=1,
    ),
    FaultModel(
        check="screws_low",
        outcomes=(
            Outcome("", 1),
            Outcome("", 0.7, _H, 0.6, 1, 1),
            Outcome("", 0.3, _H, 1, 2, 5),
        ),
        hang_rate=0.022,
        service_rate=0.00075,
        seen=0.77,
        behind_guard=True,
    ),
    FaultModel(
        check="collar_gap_mm",
        outcomes=(
            Outcome("", 1, low=0.1, high=0.9, scale=Scale.GAP),
            Outcome("", 0.6, _C, 1, -0.75, -0.15, Scale.GAP),
            Outcome("", 0.4, _C, 0.6, 1.2, 2.6, Scale.GAP),
        ),
        hang_rate=0.07,
        seen=0.73,
        reading_error=0.05,
        decimals=1,
    ),
    FaultModel(
        check="disc_offset_mm",
        outcomes=(Outcome("", 1, low=0.0, high=1.7), Outcome("", 1, _C, 1, 2.5, 8.0)),
        hang_rate=0.05,
        seen=0.65,
        behind_guard=True,
        reading_error=0.2,
        decimals=1,
    ),
    FaultModel(
        check="arm_bolts",
        outcomes=(
            Outcome("tight", 1),
            Outcome("loose", 0.85, _C, 0.7),
            Outcome("missing", 0.15, _H, 1),
        ),
        hang_rate=0.025,
        service_rate=0.001,
        seen=0.91,
        showy=True,
    ),
    FaultModel(
        check="isolator_stack",
        outcomes=(
            Outcome("complete", 1),
            Outcome("washer_missing", 0.5, _C, 0.4),
            Outcome("damaged", 0.35, _C, 0.7),
            Outcome("isolator_missing", 0.15, _H, 1),
        ),
        hang_rate=0.035,
        service_rate=0.001,
        service_outcome=2,
        seen=0.91,
        showy=True,
    ),
    FaultModel(
        check="isolators_free",
        outcomes=(
            Outcome("", 0.8, low=1, high=1),
            Outcome("", 0.2, low=2, high=2),
            Outcome("", 1, _C, 1, 0, 0),
        ),
        hang_rate=0.15,
        seen=0.81,
    ),
    FaultModel(
        check="isolator_squeeze_mm",
        outcomes=(
            Outcome("", 1, low=0.02, high=0.12, scale=Scale.RUBBER),
            Outcome("", 1, _C, 1, 0.18, 0.34, Scale.RUBBER),
        ),
        hang_rate=0.01,
        seen=0.44,
        reading_error=0.2,
        decimals=1,
    ),
    FaultModel(
        check="metal_contact",
        outcomes=(Outcome("no", 1), Outcome("yes", 1, _H, 1)),
        hang_rate=0.015,
        service_rate=0.0005,
        seen=0.91,
        showy=True,
    ),
    FaultModel(
        check="smallest_clearance_mm",
        outcomes=(
            Outcome("", 1, low=5, high=40),
            Outcome("", 0.9, _C, 0.5, 0.6, 2.7),
            Outcome("", 0.1, _H, 1, 0, 0),
        ),
        hang_rate=0.045,
        seen=0.65,
        reading_error=0.7,
        decimals=1,
    ),
    FaultModel(
        check="arm_misset_mm",
        outcomes=(
            Outcome("", 1, low=0.0, high=0.8),
            Outcome("", 0.6, _C, 0.6, 1.3, 3.0),
            Outcome("", 0.4, _C, 1, 3.0, 8.0),
        ),
        hang_rate=0.16,
        seen=0.85,
        needs_instrument=True,
        reading_error=0.15,
        decimals=1,
    ),
    FaultModel(
        check="arm_angle_deg",
        outcomes=(Outcome("", 1, low=79, high=90), Outcome("", 1, _C, 1, 52, 73)),
        hang_rate=0.04,
        seen=0.65,
        reading_error=1.2,
    ),
    FaultModel(
        check="breather",
        outcomes=(Outcome("open", 1), Outcome("plugged", 1, _C, 1)),
        hang_rate=0.05,
        service_rate=0.0015,
        seen=0.81,
    ),
    FaultModel(
        check="oil_level",
        outcomes=(
            Outcome("right", 1),
            Outcome("high", 0.75, _C, 0.5),
            Outcome("low", 0.25, _H, 1),
        ),
        hang_rate=0.04,
        service_rate=0.001,
        service_outcome=2,
        seen=0.91,
    ),
    FaultModel(
        check="guard",
        outcomes=(Outcome("fitted", 1), Outcome("missing", 1, _H, 0)),
        hang_rate=0.015,
        service_rate=0.00075,
        seen=0.97,
        showy=True,
    ),
)

FAULTS: tuple[FaultModel, ...] = tuple(
    next(model for model in _ENTRIES if model.check == name) for name in CHECK_NAMES
)
"""One model a check, in the order of ``CHECK_NAMES``."""
