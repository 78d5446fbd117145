"""Faults of the joint between shaft and unit."""

from demo_data.fault_model import Brings, Cure, FaultModel, Level, MeanEffect, Outcome, Scale

_C, _H, _HC = Level.CORRECT, Level.HOLD, Level.HOLD_IF_CLAMPED

_SURFACES = (
    Outcome("clean_dry", 1),
    Outcome("dust_or_dirt", 0.65, _C, 0.4),
    Outcome("oil_film", 0.20, _HC, 0.8),
    Outcome("antiseize_or_grease", 0.15, _HC, 1.0),
)

JOINT_FAULTS: tuple[FaultModel, ...] = (
    FaultModel(
        check="bore_condition",
        outcomes=_SURFACES,
        hang_rate=0.05,
        effect=MeanEffect(slip=2.5),
        cure=Cure("clean_and_refit"),
    ),
    FaultModel(
        check="clamp_seat_condition",
        outcomes=_SURFACES,
        hang_rate=0.055,
        effect=MeanEffect(slip=1.75),
        cure=Cure("clean_and_refit"),
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
        effect=MeanEffect(bearing=0.62, slip=2),
        cure=Cure("renew_key"),
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
        effect=MeanEffect(bearing=0.62, seal=0.5),
        cure=Cure("tighten_retention"),
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
        effect=MeanEffect(bearing=0.5, slip=1),
        seen_during=("retorque_in_passes",),
        cure=Cure("retorque_in_passes"),
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
        effect=MeanEffect(slip=0.5),
        seen_during=("retorque_in_passes",),
        cure=Cure("retorque_in_passes"),
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
        effect=MeanEffect(bearing=0.5, slip=2),
        cure=Cure("retorque_in_passes"),
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
        effect=MeanEffect(bearing=0.62, slip=1.88),
        brings=(Brings(2, "final_torque_nm", 1, 0.4),),
        cure=Cure("retorque_in_passes"),
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
        effect=MeanEffect(bearing=0.5),
        seen_during=("reset_collar_gap",),
        cure=Cure("reset_collar_gap"),
        seen=0.73,
        reading_error=0.05,
        decimals=1,
    ),
    FaultModel(
        check="disc_offset_mm",
        outcomes=(Outcome("", 1, low=0.0, high=1.7), Outcome("", 1, _C, 1, 2.5, 8.0)),
        hang_rate=0.05,
        effect=MeanEffect(bearing=0.5, slip=0.88),
        cure=Cure("recentre_disc"),
        seen=0.65,
        behind_guard=True,
        reading_error=0.2,
        decimals=1,
    ),
)
