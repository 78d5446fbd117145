"""What one unit's effects count as where nobody has looked: by this fleet's looks, by the handbook.

Those who looked tell of those who did not: how usual a fault is comes from first looks at units of
the same mounting and the same crew, drawn towards the handbook's shares.
"""

import pandas as pd

from scoring.explanation.assessed_unit import AssessedUnit
from scoring.handbook import grip_effect, held_arm_effect
from scoring.handbook.grip_loss import grip_loss
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
    rows[grip_effect.NAME] = _usual_grip(unit, mode)
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


def _usual_grip(unit: AssessedUnit, mode: str) -> tuple[float, float, float, float]:
    evidence, by_handbook = unit.evidence, unit.evidence_by_handbook
    return (
        float(grip_effect.grip_where_nobody_looked(mode, evidence)[0]),
        float(grip_effect.grip_multiplier(mode, by_handbook).mean[0]),
        float(1 - grip_loss(evidence)[0, 0]),
        float(1 - grip_loss(by_handbook)[0, 0]),
    )


def _usual_arm(unit: AssessedUnit, mode: str) -> tuple[float, float, float, float]:
    nobody, by_handbook = unit.usual_arms
    mean, mean_by_handbook = (
        float(held_arm_effect.held_arm_mean_and_square(mode, arm)[0][0])
        for arm in (nobody, by_handbook)
    )
    held = unit.at(unit.consequences.restraint.share_held)
    return mean, mean_by_handbook, held, float(by_handbook.share_held[0])
