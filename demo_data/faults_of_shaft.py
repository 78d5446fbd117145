"""Faults of the shaft and how far the unit sits on it."""

from demo_data.fault_model import Brings, Cure, FaultModel, Level, MeanEffect, Outcome, Scale

_C, _H, _HC = Level.CORRECT, Level.HOLD, Level.HOLD_IF_CLAMPED

SHAFT_FAULTS: tuple[FaultModel, ...] = (
    FaultModel(
        check="seated",
        outcomes=(Outcome("home", 1), Outcome("short", 1, _C, 1)),
        hang_rate=0.02,
        effect=MeanEffect(bearing=0.5, seal=0.5),
        cure=Cure("reseat_on_shaft"),
    ),
    FaultModel(
        check="support_bushings",
        outcomes=(
            Outcome("seated", 1),
            Outcome("proud", 0.75, _C, 0.6),
            Outcome("missing", 0.25, _H, 1),
        ),
        hang_rate=0.05,
        effect=MeanEffect(bearing=1.25, seal=0.75),
        cure=Cure("renew_support_bushings"),
    ),
    FaultModel(
        check="engagement_mm",
        outcomes=(
            Outcome("", 1, low=1.06, high=1.3, scale=Scale.ENGAGEMENT),
            Outcome("", 1, _HC, 1, 0.62, 0.95, Scale.ENGAGEMENT),
        ),
        hang_rate=0.022,
        comes_of="seated",
        brings=(Brings(1, "seated", 1, 0.5),),
        cure=Cure("reseat_on_shaft", "exchange_unit", 0.6),
        seen=0.55,
        behind_guard=True,
        reading_error=2.0,
    ),
    FaultModel(
        check="shaft_end",
        outcomes=(Outcome("reaches", 1), Outcome("short", 1, _HC, 1)),
        hang_rate=0.0,
        comes_of="seated",
        effect=MeanEffect(bearing=0.88, slip=2.25),
        shows="engagement_mm",
        cure=Cure("reseat_on_shaft", "exchange_unit", 0.6),
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
        outlasts_hanging=True,
        effect=MeanEffect(bearing=0.5, seal=0.5, slip=1.25),
        cure=Cure("renew_shaft"),
        seen=0.65,
        reading_error=0.002,
        decimals=3,
    ),
    FaultModel(
        check="shaft_seat",
        outcomes=(
            Outcome("sound", 1),
            Outcome("fretted", 0.7, _C, 0.5),
            Outcome("worn", 0.3, _C, 1),
        ),
        hang_rate=0.03,
        damaged_from=2,
        outlasts_hanging=True,
        effect=MeanEffect(bearing=0.3, slip=1.2),
        cure=Cure("renew_shaft"),
        seen=0.6,
    ),
    FaultModel(
        check="shaft_runout_mm",
        outcomes=(
            Outcome("", 1, low=0.02, high=0.2),
            Outcome("", 0.65, _C, 0.55, 0.28, 0.5),
            Outcome("", 0.35, _C, 1, 0.5, 1.1),
        ),
        hang_rate=0.09,
        outlasts_hanging=True,
        effect=MeanEffect(bearing=1.12, seal=1.75),
        cure=Cure("true_shaft", "renew_shaft", 0.8),
        seen=0.85,
        needs_instrument=True,
        reading_error=0.02,
        decimals=2,
    ),
)
