"""Generate a small fleet with something planted before the generator is read; run by itself.

``python planted.py FOLDER as_it_is | unknown | known | cured | without CHECK``
"""

import dataclasses
import sys
from pathlib import Path

from demo_data import faults_of_housing, faults_of_joint
from demo_data.fault_model import Cure, FaultModel, Level, MeanEffect, Outcome
from scoring import contract
from scoring.contract import rework, walkdowns

UNITS, SEED = 300, 9
PLANTED = dataclasses.replace(
    walkdowns.CHECK_BY_NAME["smallest_clearance_mm"],
    name="paint_mm",
    label="paint",
    critical_for=(),
    due_after_days=None,
)


def plant_check() -> None:
    """Plant a check in the middle of those that the contract has."""
    half = len(contract.CHECKS) // 2
    checks = (*contract.CHECKS[:half], PLANTED, *contract.CHECKS[half:])
    columns, names = contract.WALKDOWNS.columns, [check.name for check in contract.CHECKS]
    of_checks = [column.name in names for column in columns]
    first = of_checks.index(True)
    last = first + len(names)
    table = dataclasses.replace(
        contract.WALKDOWNS, columns=(*columns[:first], *checks, *columns[last:])
    )
    for module in (contract, walkdowns):
        module.CHECKS, module.WALKDOWNS = checks, table
    walkdowns.CHECK_BY_NAME[PLANTED.name] = PLANTED


def plant_action() -> None:
    """Plant an action that cures what others cure too."""
    action = rework.Action(name="paint", does="paint it", cures=("guard", PLANTED.name))
    rework.ACTIONS = (action, *rework.ACTIONS)
    rework.ACTION_BY_NAME[action.name] = action


def plant_fault(*, cured: bool) -> None:
    """Tell the generator of the planted check; with an effect and a cure, if asked."""
    model = FaultModel(
        check=PLANTED.name,
        outcomes=(Outcome("", 1, low=0, high=1), Outcome("", 1, Level.CORRECT, 1, 2, 5)),
        hang_rate=0.1,
        service_rate=0.002,
        effect=MeanEffect(bearing=1.0) if cured else MeanEffect(),
        cure=Cure("paint") if cured else None,
        reading_error=0.1,
        decimals=1,
    )
    faults_of_housing.HOUSING_FAULTS = (model, *faults_of_housing.HOUSING_FAULTS)


def forget_fault(check: str) -> None:
    """Let the generator forget a check that the contract has."""
    faults_of_joint.JOINT_FAULTS = tuple(
        model for model in faults_of_joint.JOINT_FAULTS if model.check != check
    )


def main(folder: str, what: str, *rest: str) -> None:
    """Write the fleet with what is planted."""
    if what in {"unknown", "known", "cured"}:
        plant_check()
        plant_action()
    if what in {"known", "cured"}:
        plant_fault(cured=what == "cured")
    if what == "without":
        forget_fault(*rest)
    # only now, for the generator reads contract and faults when it is imported
    from demo_data.generate import generate_fleet  # noqa: PLC0415
    from demo_data.write import write_fleet  # noqa: PLC0415

    write_fleet(generate_fleet(UNITS, SEED), Path(folder))


if __name__ == "__main__":
    main(*sys.argv[1:])
