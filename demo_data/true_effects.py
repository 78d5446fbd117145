"""What faults truly do in one invented plant: drawn anew for every seed.

The means say what a handbook might; the draw decides what holds in this plant. A fault may
do nothing at all, but it never protects: an effect is null, or drawn from a beta law between
nothing and well above its mean, so that the mean over all draws is the one declared.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import pandas as pd

from demo_data.arrays import Floats
from demo_data.chance import Chance
from demo_data.fault_arrays import PAIRS
from demo_data.fault_model import MeanEffect
from demo_data.fault_table import CHECK_NAMES, FAULTS
from demo_data.known_actions import ACTION_NAMES, RENEWS_BEARING, RENEWS_SEAL
from demo_data.scenario import ENVIRONMENTS
from scoring.contract.mountings import EVERY_MOUNTING

MODES = ("low_speed_bearing", "seal_leak", "joint_slip")
SHARE_NULL = 0.12
EFFECT_SD = 0.52
ABOVE_MEAN = 1.5
SITE_SD = 0.15
UNIT_SD = 0.15
LINE_SD = 0.1
CREW_SD = 0.10
PLACE_SD = 0.08
SUCCESS_LEAST, SUCCESS_MOST = 0.75, 0.97

Law = Callable[[np.random.Generator, Floats], Floats]
"""Draws log multipliers about their means."""


def null_or_about_the_mean(source: np.random.Generator, mean: Floats) -> Floats:
    """Draw effects: some null, the others by a beta law up to well above their means."""
    centre = np.where(mean > 0, mean, 1.0) / (1 - SHARE_NULL)
    most = centre + ABOVE_MEAN
    share = centre / most
    weight = share * (1 - share) * (most / EFFECT_SD) ** 2 - 1
    drawn = most * source.beta(share * weight, (1 - share) * weight)
    null = source.random(mean.shape) < SHARE_NULL
    return np.where((mean > 0) & ~null, drawn, 0.0)


@dataclass(frozen=True, kw_only=True)
class Spread:
    """How far what holds in one plant lies from the usual.

    Attributes
    ----------
    faults : callable
        Draws the log multipliers of faults about their means.
    site, line, crew, place, unit : float
        Standard deviations of the log multipliers of sites, lines, crews, places and units.
    """

    faults: Law = null_or_about_the_mean
    site: float = SITE_SD
    line: float = LINE_SD
    crew: float = CREW_SD
    place: float = PLACE_SD
    unit: float = UNIT_SD


PLAIN_SPREAD = Spread()


@dataclass(frozen=True)
class TrueEffects:
    """Log multipliers of the hazard; the first axis is the mode.

    Attributes
    ----------
    fault : float array, shape (modes, checks)
        Of each check's fault at full severity.
    pair : float array, shape (modes, pairs)
        Of two faults together, on top of both.
    site : float array, shape (modes, sites)
        Of the site.
    line : float array, shape (modes, lines)
        Of the kind of line.
    crew : float array, shape (modes, crews)
        Of the crew's habits that no check shows.
    place : float array, shape (modes, surroundings, mountings)
        Of surroundings and mounting together.
    success : float array, shape (actions,)
        Chance that a re-work action succeeds.
    """

    fault: Floats
    pair: Floats
    site: Floats
    line: Floats
    crew: Floats
    place: Floats
    success: Floats

    def table(
        self,
        sites: list[str],
        lines: list[str],
        crews: list[str],
        of_nameplate: dict[str, tuple[float, ...]],
    ) -> pd.DataFrame:
        """Return every log multiplier with its name, one row an effect of one mode."""
        by_mode = np.array([*of_nameplate.values()]).reshape(-1, len(MODES)).T
        places = [f"{e} x {m}" for e in ENVIRONMENTS for m in EVERY_MOUNTING]
        parts = (
            (list(CHECK_NAMES), self.fault),
            ([f"{CHECK_NAMES[p.one]} x {CHECK_NAMES[p.two]}" for p in PAIRS], self.pair),
            ([f"site: {name}" for name in sites], self.site),
            ([f"line: {name}" for name in lines], self.line),
            ([f"crew: {name}" for name in crews], self.crew),
            ([f"place: {name}" for name in places], self.place.reshape(len(MODES), -1)),
            (list(of_nameplate), by_mode),
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
    return _by_mode([model.effect for model in FAULTS]), _by_mode([p.effect for p in PAIRS])


def _by_mode(effects: list[MeanEffect]) -> Floats:
    rows = [[effect.bearing, effect.seal, effect.slip] for effect in effects]
    return np.array(rows, dtype=np.float64).reshape(-1, len(MODES)).T


def _around(chance: Chance, names: list[str], mean: Floats, law: Law) -> Floats:
    columns = [
        law(chance.of(name).source(), mean[:, k]) if mean[:, k].any() else np.zeros(len(mean))
        for k, name in enumerate(names)
    ]
    return np.array(columns).reshape(-1, len(MODES)).T


def draw_effects(  # noqa: PLR0913, PLR0917 - what effects are drawn from
    chance: Chance,
    sites: int,
    lines: int,
    crews: int,
    spread: Spread = PLAIN_SPREAD,
    common: Chance | None = None,
) -> TrueEffects:
    """Draw what holds in one plant.

    Parameters
    ----------
    chance : Chance
        Source of chance.
    sites, lines, crews : int
        How many there are.
    spread : Spread
        How far they lie from the usual.
    common : Chance, optional
        Source of what faults do, where several plants have that in common; by default ``chance``.

    Returns
    -------
    TrueEffects
        The drawn log multipliers.
    """
    fault, pair = mean_effects()
    of_faults = chance if common is None else common
    success = chance.of("takes").at(np.zeros(1, np.int64)).shares(ACTION_NAMES)[0]
    # a new part is new, whoever fitted it
    renews = RENEWS_BEARING | RENEWS_SEAL
    places = len(ENVIRONMENTS) * len(EVERY_MOUNTING)
    of_place = spread.place * _of_each(chance.of("place"), places)
    return TrueEffects(
        fault=_around(of_faults.of("fault"), list(CHECK_NAMES), fault, spread.faults),
        pair=_around(
            of_faults.of("pair"), [CHECK_NAMES[p.one] for p in PAIRS], pair, spread.faults
        ),
        site=spread.site * _of_each(chance.of("site"), sites),
        line=spread.line * _of_each(chance.of("line"), lines),
        crew=spread.crew * _of_each(chance.of("crew"), crews),
        place=of_place.reshape(len(MODES), len(ENVIRONMENTS), len(EVERY_MOUNTING)),
        success=np.where(renews, 1.0, SUCCESS_LEAST + (SUCCESS_MOST - SUCCESS_LEAST) * success),
    )


def with_slips(effects: TrueEffects, log_multiplier: Floats) -> TrueEffects:
    """Return the effects with what each fault makes of a slip, shape (checks,)."""
    fault = effects.fault.copy()
    fault[MODES.index("joint_slip")] = log_multiplier
    return replace(effects, fault=fault)


def _of_each(chance: Chance, number: int) -> Floats:
    return chance.at(np.arange(number)).normals(MODES).T
