"""What one unit's effects count as where nobody has looked: by this fleet's looks, by the handbook.

Those who looked tell of those who did not: how usual a fault is comes from first looks at units of
the same mounting and the same crew, drawn towards the handbook's shares.
"""

from dataclasses import replace

import numpy as np
import pandas as pd

from scoring.consequences.usual_states import (
    USUAL_SHARE_CLAMPED,
    USUAL_SHARE_OF_METAL_CONTACT,
)
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.handbook import held_arm_effect
from scoring.handbook.multipliers import EFFECTS


def where_nobody_looked(unit: AssessedUnit, mode: str) -> pd.DataFrame:
    """Return what each effect counts as at one unit where nobody has looked.

    Parameters
    ----------
    unit : AssessedUnit
        The unit.
    mode : str
        The failure.

    Returns
    -------
    DataFrame, shape (n_effects, 4)
        By effect: ``usual``, the mean multiplier where nobody has looked at such a mounting hung by
        such a crew [-]; ``by_handbook``, the multiplier of what was not seen here, were faults as
        usual as in the handbook [-]; and the chance of a fault, ``faulty`` by this fleet's looks
        and ``faulty_by_handbook`` [-].
    """
    rows = {effect.name: _usual(unit, effect.name, mode) for effect in EFFECTS}
    rows[held_arm_effect.NAME] = _usual_arm(unit, mode)
    columns = ["usual", "by_handbook", "faulty", "faulty_by_handbook"]
    return pd.DataFrame.from_dict(rows, orient="index", columns=columns)


_BY_NAME = {effect.name: effect for effect in EFFECTS}


def _usual(unit: AssessedUnit, name: str, mode: str) -> tuple[float, float, float, float]:
    effect, group = _BY_NAME[name], unit.groups[[unit.place]]
    mean, _ = unit.prevalence.mean_and_mean_square(effect, mode, group)
    shares = unit.prevalence.shares.get(name)
    good = effect.usual[0]
    if shares is not None:
        good = float(shares.reshape(-1, shares.shape[-1])[group[0], 0])
    return float(mean[0]), effect.usual_mean_and_square(mode)[0], 1 - good, 1 - effect.usual[0]


def _usual_arm(unit: AssessedUnit, mode: str) -> tuple[float, float, float, float]:
    here = unit.consequences.restraint
    usual = unit.prevalence.arms(unit.groups)
    clamped, metal = (
        np.broadcast_to(np.asarray(share, dtype=np.float64), here.share_clamped.shape)
        for share in (usual.clamped, usual.metal)
    )
    nobody = replace(here, share_clamped=clamped, share_metal=metal)
    by_handbook = replace(  # what was seen, or reported cured, stays as it is
        here,
        share_clamped=np.where(
            here.share_clamped == clamped, USUAL_SHARE_CLAMPED, here.share_clamped
        ),
        share_metal=np.where(
            here.share_metal == metal, USUAL_SHARE_OF_METAL_CONTACT, here.share_metal
        ),
    )
    mean, mean_by_handbook = (
        unit.at(held_arm_effect.held_arm_mean_and_square(mode, arm)[0])
        for arm in (nobody, by_handbook)
    )
    held, held_by_handbook = (
        unit.at(1 - (1 - arm.share_clamped) * (1 - arm.share_metal)) for arm in (here, by_handbook)
    )
    return mean, mean_by_handbook, held, held_by_handbook
