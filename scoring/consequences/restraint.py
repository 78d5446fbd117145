"""What a held torque arm does to the low-speed bearings and to the lip of the output seal.

One or two isolators that turn by hand: the arm floats, no parasitic load. None: the rubber holds
it, the stiffer the more it is squeezed. Metal to metal: bolt or bracket hold it.
"""

from collections.abc import Callable
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

POINTS_AT_ONCE = 16_000
"""Points worked out in one go, which the cache holds. Ours."""

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
    may_be = MayBe(misset, runout, squeeze)
    return HeldArm(
        running_bearing_loads(nameplate),
        held_by_rubber(nameplate, may_be),
        held_by_metal(nameplate, may_be),
    )


@dataclass(frozen=True)
class MayBe:
    """What may force each held arm.

    Attributes
    ----------
    misset, runout : Possible
        What they may be. [mm]
    squeeze : Possible
        Squeeze over thickness. [-]
    """

    misset: Possible
    runout: Possible
    squeeze: Possible

    @property
    def shares_of_metal(self) -> Floats:
        """How likely each point is of an arm that metal holds, shape (n_units, n_points)."""
        both = self.misset.shares[:, :, np.newaxis] * self.runout.shares[:, np.newaxis, :]
        return both.reshape(len(both), both.shape[1] * both.shape[2])  # also of no unit at all

    @property
    def shares_of_rubber(self) -> Floats:
        """How likely each point is of an arm that rubber holds, shape (n_units, n_points)."""
        of_metal, squeeze = self.shares_of_metal, self.squeeze.shares
        of_rubber = np.repeat(of_metal, squeeze.shape[1], axis=1)
        return of_rubber * np.tile(squeeze, (1, of_metal.shape[1]))


def held_by_rubber(nameplate: Nameplate, may_be: MayBe) -> "HeldBy":
    """Work out what a clamped anchor does at each unit.

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads.
    may_be : MayBe
        What may force it.

    Returns
    -------
    HeldBy
        At each mis-set, run-out and squeeze.
    """
    points = _Points((may_be.misset, may_be.runout, may_be.squeeze))
    misset, runout, squeeze = points.values
    snug = _snug_stiffness(nameplate)[points.unit]
    stiffness = squeezed_shear_stiffness(snug, np.minimum(squeeze, LARGEST_SQUEEZE))
    does = _Anchors(nameplate, points.unit, stiffness, misset / 1e3, runout / 1e3)
    return HeldBy(does, points.which, may_be.shares_of_rubber)


def held_by_metal(nameplate: Nameplate, may_be: MayBe) -> "HeldBy":
    """Work out what a metal-to-metal anchor does at each unit.

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads.
    may_be : MayBe
        What may force it; metal is never less stiff than the rubber would be.

    Returns
    -------
    HeldBy
        At each mis-set and run-out.
    """
    points = _Points((may_be.misset, may_be.runout))
    misset, runout = points.values
    squeeze = np.minimum(may_be.squeeze.points.max(axis=1), LARGEST_SQUEEZE)
    rubber = squeezed_shear_stiffness(_snug_stiffness(nameplate), squeeze)
    stiffness = np.maximum(METAL_STIFFNESS_N_PER_MM * 1e3, rubber)[points.unit]
    does = _Anchors(nameplate, points.unit, stiffness, misset / 1e3, runout / 1e3)
    return HeldBy(does, points.which, may_be.shares_of_metal)


def _snug_stiffness(nameplate: Nameplate) -> Floats:
    """Shear stiffness [N/m] of both isolators together, not squeezed."""
    area = annulus_area(nameplate["isolator_outer_mm"], nameplate["isolator_inner_mm"])
    modulus = shear_modulus(nameplate["isolator_hardness_shore_a"])
    return ISOLATORS * pad_stiffness(modulus, area, nameplate["isolator_thickness_mm"])


class _Points:
    """All that may be together of several quantities, each different point of a unit once.

    What was measured is one and the same at every point: then all is worked out at one of them.

    Parameters
    ----------
    quantities : tuple of Possible
        What each may be; the last changes fastest from point to point.

    Attributes
    ----------
    unit : ndarray of int, shape (n_different,)
        Whose each different point is.
    values : list of ndarray, shape (n_different,)
        Each quantity there. [unit of the quantity]
    which : ndarray of int, shape (n_units, n_points)
        Which of the different ones each point is.
    """

    def __init__(self, quantities: tuple[Possible, ...]) -> None:
        n_units = len(quantities[0].points)
        sizes = [one.points.shape[1] for one in quantities]
        same = np.zeros((n_units, 1), dtype=np.int64)
        for size, one in zip(sizes, quantities, strict=True):
            measured = (one.points == one.points[:, :1]).all(axis=1)
            place = np.where(measured[:, np.newaxis], 0, np.arange(size))
            same = (same[:, :, np.newaxis] * size + place[:, np.newaxis, :]).reshape(
                n_units, same.shape[1] * size
            )
        different = same == np.arange(same.shape[1])
        self.unit, point = np.nonzero(different)
        places = np.unravel_index(point, sizes)
        self.values: list[Floats] = [
            one.points[self.unit, place] for one, place in zip(quantities, places, strict=True)
        ]
        number = np.cumsum(different).reshape(same.shape) - 1
        self.which: Ints = np.take_along_axis(number, same, axis=1)


class _Arms:
    """Sizes and loads of the units, shape (n_units,), of two bearings (2, n_units)."""

    def __init__(self, nameplate: Nameplate) -> None:
        arm, span = nameplate["arm_length_mm"], nameplate["bearing_span_mm"]
        distance, share = nameplate["shaft_support_distance_mm"], share_of_the_arm(nameplate)
        self.per_runout = np.hypot(0.5, arm * slope_of_runout(1.0, distance))
        """Movement of the anchor for each metre of run-out, across and along the shaft. [-]"""
        self.cosine = arm / np.hypot(arm, distance)
        """Of the angle between that movement and the shaft. [-]"""
        sine = distance / np.hypot(arm, distance)
        self.weakest = strength_of_the_anchor(nameplate)
        self.exponent = nameplate["life_exponent"]
        of_a_pull = loads_of_both_bearings(0.0, np.ones(len(arm)), arm, span, share)
        self.of_a_pull = _by_bearing(np.abs(of_a_pull))
        """Load of each bearing for each newton of steady pull along the shaft. [-]"""
        self.of_a_swing = [
            _by_bearing(np.abs(loads_of_both_bearings(sine, side * self.cosine, arm, span, share)))
            for side in SIDES
        ]
        """Load of each bearing for each newton of swing, by side. [-]"""
        self.own_loads = _by_bearing(running_bearing_loads(nameplate))
        self.damped_loads = _by_bearing(damped_bearing_loads(nameplate))
        self.usual_load = usual_bearing_loads(nameplate).mean(axis=1)
        self.clearance = BEARING_CLEARANCE_SHARE * nameplate["shaft_diameter_mm"]
        self.bearing_stiffness = (
            BEARING_STIFFNESS_N_PER_MM * 1e3 * nameplate["shaft_diameter_mm"] * 1e3
        )


def _by_bearing(loads: Floats) -> Floats:
    """Lay out loads of two bearings bearing by bearing: long inner loops."""
    return np.ascontiguousarray(loads.T)


class HeldBy:
    """What an anchor does that holds the arm by rubber, or by metal.

    Parameters
    ----------
    does : _Anchors
        What it does at each different point.
    which : ndarray of int, shape (n_units, n_points)
        Which of the different ones is each point of what was not measured.
    shares : ndarray, shape (n_units, n_points)
        How likely each point. [-]
    """

    def __init__(self, does: "_Anchors", which: Ints, shares: Floats) -> None:
        self._does, self._which, self.shares = does, which, shares

    def where_usual(self, rows: Ints, shares: Floats) -> "HeldBy":
        """Return what some of these arms do where other values are usual.

        Parameters
        ----------
        rows : ndarray of int, shape (n_units,)
            Which arms; one may come again and again.
        shares : ndarray, shape (n_units, n_points)
            How likely each point. [-]

        Returns
        -------
        HeldBy
            What they do is worked out once for all.
        """
        return HeldBy(self._does, self._which[rows], shares)

    def mean(self, values: Floats) -> Floats:
        """Return the mean over what was not measured, shape (n_units,)."""
        return row_sums(values * self.shares)

    @property
    def added(self) -> Floats:
        """Load [N] added at most to one bearing in a turn, shape (n_units, n_points)."""
        return self._does.added[self._which]

    @property
    def life(self) -> Floats:
        """Rating life [-] of both bearings over that of a floating unit."""
        return self._does.life[self._which]

    @property
    def hazard(self) -> Floats:
        """Hazard [-] of both bearings over that of a floating unit, their own loads damped."""
        return self._does.hazard[self._which]

    @property
    def lip_runout(self) -> Floats:
        """Run-out [m] that the lip of the output seal sees."""
        return self._does.lip_runout[self._which]


class _Anchors:
    """What anchors do, each number of shape (n_different,).

    Parameters
    ----------
    nameplate : Nameplate
        Sizes and loads of the units.
    unit : ndarray of int, shape (n_different,)
        Whose each different point of what was not measured is.
    stiffness, misset, runout : ndarray, shape (n_different,)
        Of the anchor, and what moves it. [N/m, m, m]
    """

    def __init__(
        self, nameplate: Nameplate, unit: Ints, stiffness: Floats, misset: Floats, runout: Floats
    ) -> None:
        self._arms, self._unit = _Arms(nameplate), unit
        arms = self._arms
        pull = anchor_force(stiffness, misset)
        swing = anchor_force(stiffness, arms.per_runout[unit] * runout)
        pulls, swings = shared_at_the_anchor(pull, swing, arms.weakest[unit], arms.cosine[unit])
        self._first_way = _Forces(unit, pulls[0], swings[0])
        self._others = []
        for way in (1, 2):
            slips = np.flatnonzero((pulls[way] != pulls[0]) | (swings[way] != swings[0]))
            self._others.append(
                (slips, _Forces(unit[slips], pulls[way][slips], swings[way][slips]))
            )

    @cached_property
    def added(self) -> Floats:
        """Load [N] added at most to one bearing in a turn."""
        return self._worst_of_the_ways(self._added_by, np.maximum)

    @cached_property
    def life(self) -> Floats:
        """Rating life [-] of both bearings over that of a floating unit."""
        own = self._arms.own_loads
        return self._worst_of_the_ways(lambda way: self._life(way, own, 1.0), np.minimum)

    @cached_property
    def hazard(self) -> Floats:
        """Hazard [-] of both bearings over that of a floating unit, their own loads damped."""
        own = self._arms.damped_loads
        return self._worst_of_the_ways(lambda way: self._life(way, own, -SLOPE), np.maximum)

    @cached_property
    def lip_runout(self) -> Floats:
        """Run-out [m] that the lip of the output seal sees."""
        arms, unit = self._arms, self._unit
        return lip_runout(
            HUB_RUNOUT_MM / 1e3,
            self.added,
            arms.usual_load[unit],
            arms.clearance[unit],
            arms.bearing_stiffness[unit],
        )

    def _worst_of_the_ways(self, of: Callable[["_Forces"], Floats], worse: np.ufunc) -> Floats:
        """Return a number by the worst way to share what the anchor bears, at each point."""
        worst = of(self._first_way)
        for here, other in self._others:
            worst[here] = worse(worst[here], of(other))
        return worst

    def _added_by(self, forces: "_Forces") -> Floats:
        rest, swings = self._arms.of_a_pull, self._arms.of_a_swing
        by_side = [
            (forces.pull * rest[:, forces.unit] + forces.swing * one[:, forces.unit]).max(axis=0)
            for one in swings
        ]
        most: Floats = sum(by_side) / len(by_side)
        return most

    def _life(self, forces: "_Forces", own_loads: Floats, power: float) -> Floats:
        """Return the mean of a power of the life ratio over both sides."""
        arms, found = self._arms, np.empty(len(forces.unit))
        for start in range(0, len(found), POINTS_AT_ONCE):
            some = slice(start, start + POINTS_AT_ONCE)
            unit, pull, swing = forces.unit[some], forces.pull[some], forces.swing[some]
            own, at_rest = own_loads[:, unit], pull * arms.of_a_pull[:, unit]
            total = np.zeros(len(unit))
            for of_a_swing in arms.of_a_swing:
                swinging = swing * of_a_swing[:, unit]
                life = life_ratio(own.T, at_rest.T, swinging.T, arms.exponent[unit], SLOPE)
                total += life**power
            found[some] = total / len(arms.of_a_swing)
        return found


@dataclass(frozen=True)
class _Forces:
    """Steady pull and swing of the anchor [N] at some points, and whose these are."""

    unit: Ints
    pull: Floats
    swing: Floats
