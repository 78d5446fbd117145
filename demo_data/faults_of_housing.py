"""Faults of the housing: breather, oil and guard."""

from demo_data.fault_model import Cure, FaultModel, Level, MeanEffect, Outcome

_C, _H = Level.CORRECT, Level.HOLD

HOUSING_FAULTS: tuple[FaultModel, ...] = (
    FaultModel(
        check="breather",
        outcomes=(Outcome("open", 1), Outcome("plugged", 1, _C, 1)),
        hang_rate=0.05,
        service_rate=0.0015,
        effect=MeanEffect(bearing=0.5, seal=1.5),
        cure=Cure("open_breather"),
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
        effect=MeanEffect(bearing=1.62, seal=1.12),
        cure=Cure("correct_oil_level"),
        seen=0.91,
    ),
    FaultModel(
        check="guard",
        outcomes=(Outcome("fitted", 1), Outcome("missing", 1, _H, 0)),
        hang_rate=0.015,
        service_rate=0.00075,
        hides_others=True,
        cure=Cure("fit_guard"),
        seen=0.97,
        showy=True,
    ),
)
