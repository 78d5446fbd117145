"""What a held torque arm does to the low-speed bearings and to the lip of the output seal.

One or two isolators that turn by hand: the arm floats, no parasitic load. None: the rubber holds
it, the stiffer the more it is squeezed. Metal to metal: bolt or bracket hold it.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.assumed_sizes import (
    BEARING_CLEARANCE_SHARE,
    BEARING_STIFFNESS_N_PER_MM,
    HUB_RUNOUT_MM,
    METAL_STIFFNESS_N_PER_MM,
)
from scoring.consequences.bearing_loads import (
    SLOPE,
    damped_bearing_loads,
    running_bearing_loads,
    share_of_the_arm,
    strength_of_the_anchor,
    usual_bearing_loads,
)
from scoring.consequences.nameplate import Nameplate
from scoring.consequences.not_measured import Possible
from scoring.consequences.row_sums import row_sums
from scoring.mechanics.restrained_arm import (
    anchor_force,
    life_ratio,
    loads_of_both_bearings,
    shared_at_the_anchor,
    slope_of_runout,
)
from scoring.mechanics.rubber_isolator import annulus_area, pad_stiffness
from scoring.mechanics.rubber_modulus import shear_modulus
from scoring.mechanics.seal import lip_runout
from scoring.mechanics.squeezed_rubber import squeezed_shear_stiffness

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ISOLATORS = 2
LARGEST_SQUEEZE = 0.6

ARMS_AT_ONCE = 2_000
"""Arms worked out in one go, to bound memory. Ours."""

SIDES = (1.0, -1.0)
"""On which side of the unit the shaft's bearing stands: at the bearing nearer the arm the couple
adds to the force across, or takes from it. No record tells it; both count alike."""


@dataclass(frozen=True)
class HeldArm:
    """What a held arm does.

    Attributes
    ----------
    own_loads : ndarray, shape (n_units, 2)
        Loads of both low-speed bearings when the unit floats, the one nearer the arm first. [N]
    by_rubber, by_metal : HeldBy
        What a clamped, or a metal-to-metal, anchor does.
    """

    own_loads: Floats
    by_rubber: "HeldBy"
    by_metal: "HeldBy"

    def where_usual(
        self, rows: Ints, misset: Possible, runout: Possible, squeeze: Possible
    ) -> "HeldArm":
        """Return what some of these arms do where other values are usual.

        Parameters
        ----------
        rows : ndarray of int, shape (n_units,)
            Which arms; one may come again and again.
        misset, runout, squeeze : Possible
            What may be of each: at the same points, with other shares.

        Returns
        -------
        HeldArm
        """
        of_rubber, of_metal = _shares_held_by(misset, runout, squeeze)
        return HeldArm(
            self.own_loads[rows],
            _HeldAlike(self.by_rubber, rows, of_rubber),
            _HeldAlike(self.by_metal, rows, of_metal),
        )


def held_arm(
    nameplate: Nameplate, misset: Possible, runout: Possible, squeeze: Possible
) -> HeldArm:
    """Work out what a held arm does at each unit.

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads.
    misset, runout : Possible
        What they may be. [mm]
    squeeze : Possible
        Squeeze over thickness. [-]

    Returns
    -------
    HeldArm
    """
    arms = _Arms(nameplate)
    missets = misset.points[:, :, np.newaxis] / 1e3
    runouts = runout.points[:, np.newaxis, :] / 1e3
    of_rubber, of_metal = _shares_held_by(misset, runout, squeeze)
    n_points = misset.points.shape[1], runout.points.shape[1]
    misset_at, runout_at = (
        np.broadcast_to(values, (len(values), *n_points)).reshape(of_metal.shape)
        for values in (missets, runouts)
    )
    snug = _snug_stiffness(nameplate)[:, np.newaxis]
    rubber = squeezed_shear_stiffness(snug, np.minimum(squeeze.points, LARGEST_SQUEEZE))
    metal = np.maximum(METAL_STIFFNESS_N_PER_MM * 1e3, rubber.max(axis=1, keepdims=True))
    times = (1, of_metal.shape[1])

    def each(values: Floats) -> Floats:
        return np.repeat(values, rubber.shape[1], axis=1)

    return HeldArm(
        arms.own_loads,
        HeldBy(arms, np.tile(rubber, times), each(misset_at), each(runout_at), of_rubber),
        HeldBy(arms, metal, misset_at, runout_at, of_metal),
    )


def _shares_held_by(misset: Possible, runout: Possible, squeeze: Possible) -> tuple[Floats, Floats]:
    """Return how likely each point is of an arm that rubber holds, and of one that metal does."""
    both = misset.shares[:, :, np.newaxis] * runout.shares[:, np.newaxis, :]
    of_metal = both.reshape(len(both), both.shape[1] * both.shape[2])  # also of no unit at all
    of_rubber = np.repeat(of_metal, squeeze.shares.shape[1], axis=1)
    return of_rubber * np.tile(squeeze.shares, (1, of_metal.shape[1])), of_metal


def _snug_stiffness(nameplate: Nameplate) -> Floats:
    """Shear stiffness [N/m] of both isolators together, not squeezed."""
    area = annulus_area(nameplate["isolator_outer_mm"], nameplate["isolator_inner_mm"])
    modulus = shear_modulus(nameplate["isolator_hardness_shore_a"])
    return ISOLATORS * pad_stiffness(modulus, area, nameplate["isolator_thickness_mm"])


class _Arms:
    """Sizes and loads of the units, shape (n_units, 1), of two bearings (n_units, 1, 2)."""

    def __init__(self, nameplate: Nameplate) -> None:
        arm, span = nameplate["arm_length_mm"], nameplate["bearing_span_mm"]
        distance, share = nameplate["shaft_support_distance_mm"], share_of_the_arm(nameplate)
        self.per_runout = np.hypot(0.5, arm * slope_of_runout(1.0, distance))[:, np.newaxis]
        """Movement of the anchor for each metre of run-out, across and along the shaft. [-]"""
        self.cosine = (arm / np.hypot(arm, distance))[:, np.newaxis]
        """Of the angle between that movement and the shaft. [-]"""
        sine = distance / np.hypot(arm, distance)
        self.weakest = strength_of_the_anchor(nameplate)[:, np.newaxis]
        self.exponent = nameplate["life_exponent"][:, np.newaxis]
        of_a_pull = loads_of_both_bearings(0.0, np.ones(len(arm)), arm, span, share)
        self.of_a_pull = np.abs(of_a_pull)[:, np.newaxis]
        """Load of each bearing for each newton of steady pull along the shaft. [-]"""
        self.of_a_swing = [
            np.abs(loads_of_both_bearings(sine, side * self.cosine[:, 0], arm, span, share))[
                :, np.newaxis
            ]
            for side in SIDES
        ]
        """Load of each bearing for each newton of swing, by side. [-]"""
        self.own_loads = running_bearing_loads(nameplate)
        self.damped_loads = damped_bearing_loads(nameplate)
        self.usual_load = usual_bearing_loads(nameplate).mean(axis=1, keepdims=True)
        shaft = nameplate["shaft_diameter_mm"][:, np.newaxis]
        self.clearance = BEARING_CLEARANCE_SHARE * shaft
        self.bearing_stiffness = BEARING_STIFFNESS_N_PER_MM * 1e3 * shaft * 1e3


class HeldBy:
    """What an anchor does that holds the arm by rubber, or by metal.

    Parameters
    ----------
    arms : _Arms
        The units.
    stiffness, misset, runout : ndarray, shape (n_units, n_points)
        Of the anchor, and what moves it, at each point of what was not measured. [N/m, m, m]
    shares : ndarray, shape (n_units, n_points)
        How likely each point. [-]
    """

    def __init__(
        self, arms: _Arms, stiffness: Floats, misset: Floats, runout: Floats, shares: Floats
    ) -> None:
        self._arms, self.shares = arms, shares
        pull = anchor_force(stiffness, misset)
        swing = anchor_force(stiffness, arms.per_runout * runout)
        self._ways = shared_at_the_anchor(pull, swing, arms.weakest, arms.cosine)

    def mean(self, values: Floats) -> Floats:
        """Return the mean over what was not measured, shape (n_units,)."""
        return row_sums(values * self.shares)

    @cached_property
    def added(self) -> Floats:
        """Load [N] added at most to one bearing in a turn, shape (n_units, n_points)."""
        rest, swings = self._arms.of_a_pull, self._arms.of_a_swing
        most = np.zeros(self.shares.shape)
        for pull, swing in zip(*self._ways, strict=True):
            by_side = [
                (_on_bearings(pull, rest) + _on_bearings(swing, one)).max(axis=-1) for one in swings
            ]
            most = np.maximum(most, sum(by_side) / len(by_side))
        return most

    @cached_property
    def life(self) -> Floats:
        """Rating life [-] of both bearings over that of a floating unit."""
        return self._of_life(self._arms.own_loads, 1.0)

    @cached_property
    def hazard(self) -> Floats:
        """Hazard [-] of both bearings over that of a floating unit, their own loads damped."""
        return self._of_life(self._arms.damped_loads, -SLOPE)

    @cached_property
    def lip_runout(self) -> Floats:
        """Run-out [m] that the lip of the output seal sees."""
        arms = self._arms
        return lip_runout(
            HUB_RUNOUT_MM / 1e3, self.added, arms.usual_load, arms.clearance, arms.bearing_stiffness
        )

    def _of_life(self, own_loads: Floats, power: float) -> Floats:
        """Return a power of the life ratio: its mean over both sides, the worst way to share."""
        (pull, *pulls), (swing, *swings) = self._ways
        found = np.empty(self.shares.shape)
        for start in range(0, len(found), ARMS_AT_ONCE):
            some = np.arange(start, min(start + ARMS_AT_ONCE, len(found)))
            found[some] = self._mean_of_sides(
                some[:, np.newaxis], own_loads, (pull[some], swing[some]), power
            )
        worse = np.minimum if power > 0 else np.maximum
        for other in zip(pulls, swings, strict=True):
            slips = (other[0] != pull) | (other[1] != swing)
            row = np.flatnonzero(slips) // slips.shape[1]
            of_other = self._mean_of_sides(
                row, own_loads, (other[0][slips], other[1][slips]), power
            )
            found[slips] = worse(found[slips], of_other)
        return found

    def _mean_of_sides(
        self, row: Ints, own_loads: Floats, forces: tuple[Floats, Floats], power: float
    ) -> Floats:
        arms, (pull, swing) = self._arms, forces
        at_rest = _on_bearings(pull, arms.of_a_pull[row, 0])
        total = np.zeros(pull.shape)
        for of_a_swing in arms.of_a_swing:
            swinging = _on_bearings(swing, of_a_swing[row, 0])
            life = life_ratio(own_loads[row], at_rest, swinging, arms.exponent[row, 0], SLOPE)
            total += life**power
        return np.asarray(total / len(arms.of_a_swing))


def _on_bearings(force: Floats, shares: Floats) -> Floats:
    """Return the load of a force on each bearing, laid out bearing by bearing: long inner loops."""
    return np.moveaxis(force * np.moveaxis(shares, -1, 0), 0, -1)


class _HeldAlike(HeldBy):
    """Arms of others, where other values are usual: what they do is worked out once for all.

    Parameters
    ----------
    others : HeldBy
        The others.
    rows : ndarray of int, shape (n_units,)
        Which of them.
    shares : ndarray, shape (n_units, n_points)
        How likely each point. [-]
    """

    def __init__(self, others: HeldBy, rows: Ints, shares: Floats) -> None:
        self._others, self._rows, self.shares = others, rows, shares

    @cached_property
    def added(self) -> Floats:
        return self._others.added[self._rows]

    @cached_property
    def life(self) -> Floats:
        return self._others.life[self._rows]

    @cached_property
    def hazard(self) -> Floats:
        return self._others.hazard[self._rows]

    @cached_property
    def lip_runout(self) -> Floats:
        return self._others.lip_runout[self._rows]
