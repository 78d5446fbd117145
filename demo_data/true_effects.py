"""What faults truly do in one invented plant: drawn anew for every seed.

The means say what a handbook might; the draw decides what holds in this plant. A fault may
do nothing at all, but it never protects: an effect is null, or drawn from a beta law between
nothing and well above its mean, so that the mean over all draws is the table's.
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from demo_data.arrays import Chance, Floats
from demo_data.fault_model import CHECK_AT, CHECK_NAMES
from demo_data.scenario import ENVIRONMENTS
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.rework import ACTION_BY_NAME

MODES = ("low_speed_bearing", "seal_leak", "joint_slip")
SHARE_NULL = 0.12
EFFECT_SD = 0.52
ABOVE_MEAN = 1.5
SITE_SD = 0.15
UNIT_SD = 0.15
LINE_SD = 0.1
CREW_SD = 0.10
PLACE_SD = 0.08
TAKES_LEAST, TAKES_MOST = 0.75, 0.97

MEAN_EFFECT: dict[str, dict[str, float]] = {
    "low_speed_bearing": {
        "seated": 0.5,
        "support_bushings": 1.25,
        "shaft_end": 0.88,
        "shaft_diameter_measured_mm": 0.5,
        "shaft_runout_mm": 1.12,
        "key_condition": 0.62,
        "retention": 0.62,
        "torque_passes": 0.5,
        "final_torque_nm": 0.5,
        "screws_low": 0.62,
        "collar_gap_mm": 0.5,
        "disc_offset_mm": 0.5,
        "arm_bolts": 1.12,
        "isolator_stack": 0.88,
        "isolators_free": 1.75,
        "isolator_squeeze_mm": 0.62,
        "metal_contact": 1.75,
        "smallest_clearance_mm": 1,
        "arm_misset_mm": 0.75,
        "arm_angle_deg": 0.5,
        "breather": 0.5,
        "oil_level": 1.62,
    },
    "seal_leak": {
        "seated": 0.5,
        "support_bushings": 0.75,
        "shaft_diameter_measured_mm": 0.5,
        "shaft_runout_mm": 1.75,
        "retention": 0.5,
        "arm_bolts": 0.75,
        "isolator_stack": 0.5,
        "isolators_free": 1,
        "metal_contact": 1,
        "smallest_clearance_mm": 0.62,
        "arm_misset_mm": 0.5,
        "breather": 1.5,
        "oil_level": 1.12,
    },
    "joint_slip": {
        "bore_condition": 2.5,
        "clamp_seat_condition": 1.75,
        "shaft_end": 2.25,
        "shaft_diameter_measured_mm": 1.25,
        "key_condition": 2,
        "torque_passes": 1,
        "final_torque_nm": 2,
        "screws_low": 1.88,
        "disc_offset_mm": 0.88,
        "tightening_order": 0.5,
    },
}
"""Mean log multiplier of a fault at full severity; planning values of ours."""

PAIR = ("arm_misset_mm", "isolators_free")
"""A mis-set arm hurts more where no isolator is free: mean log multiplier by mode below."""

MEAN_PAIR_EFFECT = {"low_speed_bearing": 1.1, "seal_leak": 0.5, "joint_slip": 0.0}


@dataclass(frozen=True)
class TrueEffects:
    """Log multipliers of the hazard; the first axis is the mode.

    Attributes
    ----------
    fault : float array, shape (modes, checks)
        Of each check's fault at full severity.
    pair : float array, shape (modes,)
        Of a mis-set arm without a free isolator, on top of both.
    site : float array, shape (modes, sites)
        Of the site.
    line : float array, shape (modes, lines)
        Of the kind of line.
    crew : float array, shape (modes, crews)
        Of the crew's habits that no check shows.
    place : float array, shape (modes, surroundings, mountings)
        Of surroundings and mounting together.
    takes : float array, shape (actions,)
        Chance that a re-work action takes.
    """

    fault: Floats
    pair: Floats
    site: Floats
    line: Floats
    crew: Floats
    place: Floats
    takes: Floats

    def table(self, sites: list[str], lines: list[str], crews: list[str]) -> pd.DataFrame:
        """Return every log multiplier with its name, one row an effect of one mode."""
        places = [f"{e} x {m}" for e in ENVIRONMENTS for m in EVERY_MOUNTING]
        parts = (
            (list(CHECK_NAMES), self.fault),
            ([" x ".join(PAIR)], self.pair[:, None]),
            ([f"site: {name}" for name in sites], self.site),
            ([f"line: {name}" for name in lines], self.line),
            ([f"crew: {name}" for name in crews], self.crew),
            ([f"place: {name}" for name in places], self.place.reshape(len(MODES), -1)),
        )
        names = [name for part, _ in parts for name in part]
        values = np.concatenate([value for _, value in parts], axis=1)
        return pd.DataFrame(
            {
                "failure_mode": np.repeat(np.array(MODES, dtype=object), len(names)),
                "effect": np.tile(np.array(names, dtype=object), len(MODES)),
                "log_multiplier": values.ravel(),
            },
        )


def mean_effects() -> tuple[Floats, Floats]:
    """Return the means of ``fault`` and ``pair``: what a handbook might know."""
    fault = np.zeros((len(MODES), len(CHECK_NAMES)))
    for m, mode in enumerate(MODES):
        for check, mean in MEAN_EFFECT[mode].items():
            fault[m, CHECK_AT[check]] = mean
    return fault, np.array([MEAN_PAIR_EFFECT[mode] for mode in MODES])


def _around(chance: Chance, mean: Floats) -> Floats:
    centre = np.where(mean > 0, mean, 1.0) / (1 - SHARE_NULL)
    most = centre + ABOVE_MEAN
    share = centre / most
    weight = share * (1 - share) * (most / EFFECT_SD) ** 2 - 1
    drawn = most * chance.beta(share * weight, (1 - share) * weight)
    null = chance.random(mean.shape) < SHARE_NULL
    return np.where((mean > 0) & ~null, drawn, 0.0)


def draw_effects(chance: Chance, sites: int, lines: int, crews: int) -> TrueEffects:
    """Draw what holds in one plant.

    Parameters
    ----------
    chance : numpy.random.Generator
        Source of chance.
    sites, lines, crews : int
        How many there are.

    Returns
    -------
    TrueEffects
        The drawn log multipliers.
    """
    fault, pair = mean_effects()
    modes = len(MODES)
    takes = TAKES_LEAST + (TAKES_MOST - TAKES_LEAST) * chance.random(len(ACTION_BY_NAME))
    # a new part is new, whoever fitted it
    takes[[bool(action.renews) for action in ACTION_BY_NAME.values()]] = 1.0
    return TrueEffects(
        fault=_around(chance, fault),
        pair=_around(chance, pair),
        site=SITE_SD * chance.standard_normal((modes, sites)),
        line=LINE_SD * chance.standard_normal((modes, lines)),
        crew=CREW_SD * chance.standard_normal((modes, crews)),
        place=PLACE_SD * chance.standard_normal((modes, len(ENVIRONMENTS), len(EVERY_MOUNTING))),
        takes=takes,
    )
