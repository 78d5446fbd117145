"""The table of faults: one entry for every check that the generator knows, by the contract's order.

A check that it does not know is never seen in what it generates; an action, never done.
"""

import numpy as np

from demo_data.arrays import Flags
from demo_data.fault_model import FaultModel
from demo_data.faults_of_arm import ARM_FAULTS
from demo_data.faults_of_housing import HOUSING_FAULTS
from demo_data.faults_of_joint import JOINT_FAULTS
from demo_data.faults_of_shaft import SHAFT_FAULTS
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.walkdowns import CHECKS

DECLARED: tuple[FaultModel, ...] = (*SHAFT_FAULTS, *JOINT_FAULTS, *ARM_FAULTS, *HOUSING_FAULTS)

_MODEL_OF = {model.check: model for model in DECLARED}
_KNOWN = tuple(check for check in CHECKS if check.name in _MODEL_OF)

CHECK_NAMES: tuple[str, ...] = tuple(check.name for check in _KNOWN)
"""The checks that are causes; the columns of every state table."""

CHECK_AT: dict[str, int] = {name: i for i, name in enumerate(CHECK_NAMES)}

FAULTS: tuple[FaultModel, ...] = tuple(_MODEL_OF[name] for name in CHECK_NAMES)
"""One model a check, in the order of ``CHECK_NAMES``."""

APPLIES: Flags = np.array([[m in check.mountings for check in _KNOWN] for m in EVERY_MOUNTING])
"""Whether a mounting has a check, shape (mountings, checks)."""

ONLY_WHERE: tuple[str, ...] = tuple(check.only_where for check in _KNOWN)
"""The column of ``units`` that has to say yes for each check; mostly none."""
