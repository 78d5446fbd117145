"""Faults of the housing: breather, oil, plugs, seal lip, backstop and guard."""

from demo_data.fault_model import Cure, FaultModel, Level, MeanEffect, Outcome

_C, _H = Level.CORRECT, Level.HOLD

HOUSING_FAULTS: tuple[FaultModel, ...] = (
    FaultModel(
        check="breather",
        outcomes=(Outcome("open", 1), Outcome("plugged", 1, _C, 1)),
        hang_rate=0.05,
        outlasts_hanging=True,
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
        check="mounting_position",
        outcomes=(Outcome("as_required", 1), Outcome("wrong", 1, _C, 1)),
        hang_rate=0.02,
        outlasts_hanging=True,
        effect=MeanEffect(bearing=0.4, seal=0.6),
        cure=Cure("move_plugs"),
        seen=0.6,
    ),
    FaultModel(
        check="oil_condition",
        outcomes=(
            Outcome("clean", 1),
            Outcome("wrong_type", 0.5, _C, 0.5),
            Outcome("water", 0.35, _C, 0.8),
            Outcome("metal", 0.15, _C, 1),
        ),
        hang_rate=0.03,
        service_rate=0.0012,
        service_outcome=2,
        damaged_from=3,
        outlasts_hanging=True,
        effect=MeanEffect(bearing=1.1, seal=0.4),
        cure=Cure("change_oil"),
        seen=0.5,
    ),
    FaultModel(
        check="seal_lip",
        outcomes=(
            Outcome("clean", 1),
            Outcome("painted", 0.7, _C, 0.5),
            Outcome("damaged", 0.3, _C, 1),
        ),
        hang_rate=0.04,
        service_rate=0.0005,
        service_outcome=2,
        outlasts_hanging=True,
        effect=MeanEffect(seal=1.0),
        cure=Cure("renew_seal"),
        seen=0.5,
        behind_guard=True,
    ),
    FaultModel(
        check="backstop_direction",
        outcomes=(Outcome("right", 1), Outcome("wrong", 1, _H, 1)),
        hang_rate=0.012,
        outlasts_hanging=True,
        effect=MeanEffect(bearing=0.8, slip=0.5),
        cure=Cure("turn_backstop"),
        seen=0.7,
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
