"""Faults of the torque arm and its anchor."""

from demo_data.fault_model import (
    Brings,
    Cure,
    FaultModel,
    Level,
    MeanEffect,
    Outcome,
    Scale,
    Together,
)

_C, _H = Level.CORRECT, Level.HOLD

ARM_FAULTS: tuple[FaultModel, ...] = (
    FaultModel(
        check="arm_bolts",
        outcomes=(
            Outcome("tight", 1),
            Outcome("loose", 0.85, _C, 0.7),
            Outcome("missing", 0.15, _H, 1),
        ),
        hang_rate=0.025,
        service_rate=0.001,
        effect=MeanEffect(bearing=1.12, seal=0.75),
        cure=Cure("tighten_arm_bolts"),
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
        effect=MeanEffect(bearing=0.88, seal=0.5),
        cure=Cure("replace_isolators", "restore_isolation", 0.7),
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
        effect=MeanEffect(bearing=1.75, seal=1),
        brings=(Brings(2, "isolator_squeeze_mm", 1, 0.45),),
        cure=Cure("back_off_isolators", "replace_isolators", 0.75),
        seen=0.81,
    ),
    FaultModel(
        check="isolator_squeeze_mm",
        outcomes=(
            Outcome("", 1, low=0.02, high=0.12, scale=Scale.RUBBER),
            Outcome("", 1, _C, 1, 0.18, 0.34, Scale.RUBBER),
        ),
        hang_rate=0.01,
        effect=MeanEffect(bearing=0.62),
        cure=Cure("back_off_isolators", "replace_isolators", 0.75),
        seen=0.44,
        reading_error=0.2,
        decimals=1,
    ),
    FaultModel(
        check="metal_contact",
        outcomes=(Outcome("no", 1), Outcome("yes", 1, _H, 1)),
        hang_rate=0.015,
        service_rate=0.0005,
        effect=MeanEffect(bearing=1.75, seal=1),
        cure=Cure("restore_isolation", "restore_clearance", 0.5),
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
        effect=MeanEffect(bearing=1, seal=0.62),
        brings=(Brings(2, "metal_contact", 1, 0.7),),
        cure=Cure("restore_clearance"),
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
        effect=MeanEffect(bearing=0.75, seal=0.5),
        # a mis-set arm hurts more where no isolator is free
        together=Together("isolators_free", MeanEffect(bearing=1.1, seal=0.5)),
        cure=Cure("realign_arm"),
        seen=0.85,
        needs_instrument=True,
        reading_error=0.15,
        decimals=1,
    ),
    FaultModel(
        check="arm_angle_deg",
        outcomes=(Outcome("", 1, low=79, high=90), Outcome("", 1, _C, 1, 52, 73)),
        hang_rate=0.04,
        effect=MeanEffect(bearing=0.5),
        cure=Cure("realign_arm"),
        seen=0.65,
        reading_error=1.2,
    ),
)
