"""The re-work that the generator knows: what it cures, brings and renews."""

import numpy as np

from demo_data.arrays import Flags, Whole
from demo_data.fault_arrays import COMES_OF
from demo_data.fault_table import CHECK_NAMES, FAULTS
from scoring.contract.details import OUTBOARD
from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING
from scoring.contract.rework import ACTION_BY_NAME, ACTIONS, BEARING, SEAL

REPAIRS = (
    "renew_bearing",
    "renew_seal",
    "clean_and_refit",
    "renew_key",
    "renew_shaft",
    "retorque_in_passes",
)
"""What is done about failures, whatever is known of the checks."""


def _known() -> set[str]:
    cures = [model.cure for model in FAULTS if model.cure is not None]
    chosen = {name for cure in cures for name in (cure.usual, cure.other) if name} | {*REPAIRS}
    return chosen | {name for action in chosen for name in ACTION_BY_NAME[action].brings}


_KNOWN = tuple(action for action in ACTIONS if action.name in _known())

ACTION_NAMES: tuple[str, ...] = tuple(action.name for action in _KNOWN)
ACTION_AT: dict[str, int] = {name: i for i, name in enumerate(ACTION_NAMES)}

CURES: Flags = np.array([[check in a.cures for check in CHECK_NAMES] for a in _KNOWN])
BRINGS: Flags = np.array([[name in a.brings for name in ACTION_NAMES] for a in _KNOWN])
CURES_DAMAGE: Flags = np.array([[check in a.cures_damage for check in CHECK_NAMES] for a in _KNOWN])
_CAUSE_OF = dict(COMES_OF)
CURES_BY_CAUSE: Flags = np.array(
    [[k in _CAUSE_OF and bool(row[_CAUSE_OF[k]]) for k in range(len(CHECK_NAMES))] for row in CURES]
)
"""Whether an action cures a check by the cause alone of which its fault comes."""
OFF_SHAFT: Flags = np.array([a.off_shaft for a in _KNOWN])
ON_SHAFT_IF_OUTBOARD: Flags = np.array([a.on_shaft_for == OUTBOARD for a in _KNOWN])
RENEWS_BEARING: Flags = np.array([BEARING in a.renews for a in _KNOWN])
RENEWS_SEAL: Flags = np.array([SEAL in a.renews for a in _KNOWN])
IS_CLAMPED: Flags = np.array([m in CLAMPED for m in EVERY_MOUNTING])


def is_off_shaft(actions: Flags, outboard: Flags) -> Flags:
    """Whether the unit comes off the shaft, shape (visits,); an outboard seal is renewed on it."""
    stays = ON_SHAFT_IF_OUTBOARD & outboard[:, None]
    return np.asarray((actions & OFF_SHAFT & ~stays).any(axis=1))


def are_cured(actions: Flags) -> Flags:
    """Whether some action cures each check, shape (visits, checks)."""
    return np.asarray((actions.astype(np.int64) @ CURES.astype(np.int64)) > 0)


def are_cured_by_cause(actions: Flags) -> Flags:
    """Whether nothing but a cure of its cause cures each check, shape (visits, checks)."""
    direct = (actions.astype(np.int64) @ (CURES & ~CURES_BY_CAUSE).astype(np.int64)) > 0
    return np.asarray(are_cured(actions) & ~direct)


def is_damage_cured(actions: Flags) -> Flags:
    """Whether some action brings the part that cures damage too, shape (visits, checks)."""
    return np.asarray((actions.astype(np.int64) @ CURES_DAMAGE.astype(np.int64)) > 0)


def with_brought(actions: Flags, mounting: Whole) -> Flags:
    """Add what always comes with an action, where there are screws to torque."""
    brought = (actions.astype(np.int64) @ BRINGS.astype(np.int64)) > 0
    return np.asarray(actions | (brought & IS_CLAMPED[mounting][:, None]))
