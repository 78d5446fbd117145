"""What a friction joint carries when it is mounted as specified, and with what pressure.

From the nameplate of the joint alone; what the unit drives does not enter. A rating from the
unit's own manual comes first. Without one the screws are asked: pull, cones, wall of the hub, less
what closes the fit, and never more than the shaft itself carries in torsion.
"""

from dataclasses import dataclass, fields, replace

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.interval import Z90
from scoring.consequences.nameplate import Nameplate
from scoring.consequences.usual_cones import BUSHING_CONES, DISC_CONES, DRY
from scoring.contract.mountings import CLAMPED, SHRINK_DISCS
from scoring.mechanics import shrink_disc
from scoring.mechanics.friction_torque import (
    capacity_of_pressure,
    pressure_for_capacity,
    pressure_of_radial_force,
)
from scoring.mechanics.iso_286 import hole_limits
from scoring.mechanics.screw_threads import thread_size
from scoring.mechanics.shaft_torsion import ALLOWABLE_SHEAR, torsion_capacity
from scoring.mechanics.torque_to_preload import NUT_FACTORS, preload
from scoring.records import has_mounting

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

CONES_OF_A_DISC = 2
"""Each of the two rings of a disc has the whole pull of the screws. [-]"""

USUAL_PRESSURE = 100e6
"""Pressure on the shaft of a joint of which neither rating nor screws are known; planning value of
ours. [Pa]"""

MOST_LOST_TO_THE_FIT = 0.8
"""Share of what the screws give above which nothing is estimated from them, for most of it would be
error; planning value of ours. [-]"""

NUT_FACTOR = NUT_FACTORS["not known"]
SPREAD_OF_SCREWS = float(np.log(NUT_FACTOR.high / NUT_FACTOR.low) / (2 * Z90))
SPREAD_OF_RINGS = 0.25
SPREAD_OF_RATING = 0.1
"""Standard deviations of logarithms: friction in the threads; stiffness of rings and hub, which is
left out; a rating from the manual. The last two are planning values of ours. [-]"""


@dataclass(frozen=True)
class SpecifiedJoint:
    """Each joint as specified; of no meaning for keyed bores.

    Attributes
    ----------
    rating : ndarray, shape (n_units,)
        Torque it carries; missing where nothing says so. [N·m]
    estimated : ndarray of bool
        Whether that was estimated from the screws.
    pressure, closing, squeeze : ndarray, shape (n_units,)
        Pressure on the shaft that goes with the rating; pressure that only closes the fit (a
        split bushing closes by itself); pressure that the screws give, missing where they are not
        known. [Pa]
    bore : ndarray, shape (n_units,)
        Diameter of the bore, the middle of class H7. [m]
    spread : ndarray, shape (n_units,)
        Standard deviation of the rating's logarithm. [-]
    words : tuple of (ndarray of bool, str)
        For which units what was assumed.
    """

    rating: Floats
    estimated: Flags
    pressure: Floats
    closing: Floats
    squeeze: Floats
    bore: Floats
    spread: Floats
    words: tuple[tuple[Flags, str], ...]

    def at(self, place: NDArray[np.intp]) -> "SpecifiedJoint":
        """Return the joints of some units, which may come again and again."""
        arrays = {
            one.name: getattr(self, one.name)[place] for one in fields(self) if one.name != "words"
        }
        return replace(
            self, **arrays, words=tuple((where[place], said) for where, said in self.words)
        )


def specified_joints(
    units: pd.DataFrame, limits: pd.DataFrame, nameplate: Nameplate
) -> SpecifiedJoint:
    """Work out what each joint carries as specified.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    limits : DataFrame, shape (n_units, n_limits)
        Their limits.
    nameplate : Nameplate
        Their sizes.

    Returns
    -------
    SpecifiedJoint
    """
    shaft, length = nameplate["shaft_diameter_mm"], nameplate["clamp_length_mm"]
    disc = has_mounting(units, SHRINK_DISCS)
    bore, closing, spread_of_closing = _fit(limits, nameplate, disc)
    squeeze = _squeeze(units, nameplate, disc)
    left = squeeze - closing
    slight = left < (1 - MOST_LOST_TO_THE_FIT) * squeeze
    left = np.where(slight, np.nan, left)
    by_screws = capacity_of_pressure(left, shaft, length, DRY)
    by_shaft = torsion_capacity(shaft, ALLOWABLE_SHEAR.typical)
    rated = units["joint_rated_torque_nm"].to_numpy()
    blank = np.isnan(rated)
    rating = np.where(blank, np.minimum(by_screws, by_shaft), rated)
    cones = np.where(disc, DISC_CONES.spread, BUSHING_CONES.spread)
    of_squeeze = np.sqrt(SPREAD_OF_SCREWS**2 + SPREAD_OF_RINGS**2 + cones**2)
    # What closes the fit is paid first, so an error in the squeeze counts for more than its share
    of_estimate = np.hypot(of_squeeze * squeeze, spread_of_closing) / left
    pressure = pressure_for_capacity(rating, shaft, length, DRY)
    known = ~np.isnan(rating)
    clamped = has_mounting(units, CLAMPED)
    estimated = blank & known & clamped
    return SpecifiedJoint(
        rating=rating,
        estimated=estimated,
        pressure=np.where(known, pressure, USUAL_PRESSURE),
        closing=closing,
        squeeze=squeeze,
        bore=bore,
        spread=np.where(estimated, of_estimate, SPREAD_OF_RATING),
        words=(
            (estimated, "joint rating estimated from its screws"),
            (estimated & disc, "cones of the disc greased or dry: a distribution"),
            (estimated & ~disc, "cone of the bushing dry or greased, free or held: a distribution"),
            (
                estimated & (by_screws > by_shaft),
                f"joint rated as its shaft, {ALLOWABLE_SHEAR.typical / 1e6:g} MPa in torsion",
            ),
            (blank & slight & clamped, "screws on record hardly close the fit: no joint rating"),
        ),
    )


def _fit(limits: pd.DataFrame, nameplate: Nameplate, disc: Flags) -> tuple[Floats, Floats, Floats]:
    """Return the bore [m], the pressure that closes it on a middling shaft, and its spread [Pa].

    The bore is taken as H7, where the tolerance has that size.
    """
    shaft, hub = nameplate["shaft_diameter_mm"], nameplate["hub_outer_mm"]
    low, high = (np.nan_to_num(limit) for limit in hole_limits(shaft * 1e3, "H7"))
    tabled = high > 0
    bore = np.where(tabled, 0.5 * (low + high) / 1e3, shaft)
    least, most = (limits[name].to_numpy() / 1e3 for name in ("shaft_low_mm", "shaft_high_mm"))
    clearance = np.nan_to_num(np.maximum(bore - 0.5 * (least + most), 0.0))
    width = np.hypot(np.nan_to_num(most - least), np.where(tabled, (high - low) / 1e3, 0.0))
    closing, spread = (
        np.where(disc, shrink_disc.closing_pressure(gap, shaft, hub), 0.0)
        for gap in (clearance, width / np.sqrt(12))
    )
    return bore, closing, spread


def _squeeze(units: pd.DataFrame, nameplate: Nameplate, disc: Flags) -> Floats:
    """Return the pressure [Pa] that the screws give: on the hub, or of a bushing on the shaft."""
    diameter, _ = thread_size(units["screw_thread"].fillna("").to_numpy(dtype=object))
    one_screw = preload(units["screw_torque_nm"].to_numpy(), NUT_FACTOR.typical, diameter)
    pull = one_screw * units["screw_count"].to_numpy()
    force = np.where(disc, CONES_OF_A_DISC * DISC_CONES.usual_force, BUSHING_CONES.usual_force)
    pressed = np.where(disc, nameplate["hub_outer_mm"], nameplate["shaft_diameter_mm"])
    return pressure_of_radial_force(pull * force, pressed, nameplate["clamp_length_mm"])
