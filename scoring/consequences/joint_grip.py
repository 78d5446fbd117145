"""How near a friction joint is to slipping: ratios to its rating first, absolutes second.

Friction, nut factor and cone angle are known within a factor of several, so capacity is the rated
torque times *as found over as specified*. Without a rating it is estimated from the screws, with an
interval that says so. What was not seen is averaged over what is usual.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.interval import Z90
from scoring.consequences.nameplate import Nameplate
from scoring.consequences.usual_states import (
    USUAL_FRICTION_SHARES,
    USUAL_PASSES_SHARES,
)
from scoring.contract.checks_of_the_seat import SURFACES
from scoring.contract.mountings import CLAMPED, SHRINK_DISCS, TAPERED_BUSHING
from scoring.limits import UnitLimits
from scoring.mechanics import shrink_disc, tapered_bushing
from scoring.mechanics.friction_coefficients import BORE_FRICTION
from scoring.mechanics.friction_torque import capacity_from_radial_force, pressure_for_capacity
from scoring.mechanics.iso_286 import hole_limits
from scoring.mechanics.joint_slip import slip_margin
from scoring.mechanics.low_screws import circle_force_ratio
from scoring.mechanics.screw_threads import thread_size
from scoring.mechanics.staged_tightening import mean_and_lowest_preload
from scoring.mechanics.torque_to_preload import NUT_FACTORS, preload
from scoring.mechanics.wedge import CONE_FRICTION, CONE_HALF_ANGLE, radial_force
from scoring.records import has_mounting
from scoring.timeline.known import Known

Floats = NDArray[np.float64]

USUAL_SCREWS = 8
LOW_SCREW_RATIO = 0.5
SHORT_END_RATIO = 0.6
"""Planning values of ours: screws on a circle, torque left in a low screw, engagement of a shaft
end that was only seen to be short. [-]"""

SPREAD_OF_RATING = 0.1
SPREAD_OF_ASSUMED_TORQUE = 0.4
SPREAD_OF_ASSUMED_PEAK = 0.25
SPREAD_OF_ESTIMATE = 0.45
"""Standard deviations of logarithms; planning values of ours. [-]"""

_FRICTION_BY_SURFACE = tuple(
    BORE_FRICTION[name]
    for name in ("clean and dry", "dust or dirt", "oil film", "anti-seize or grease")
)
FRICTION_RATIOS = np.array(
    [f.typical / _FRICTION_BY_SURFACE[0].typical for f in _FRICTION_BY_SURFACE]
)
_FRICTION_SPREAD = np.array(
    [0.0, *(np.log(f.high / f.low) / (2 * Z90) for f in _FRICTION_BY_SURFACE[1:])]
)
"""As specified is clean and dry, so only what is not gets a spread."""


@dataclass(frozen=True)
class JointGrip:
    """Slip margin of each friction joint; missing for keyed bores and where nothing is known.

    Attributes
    ----------
    margin, low, high : ndarray, shape (n_units,)
        Torque the joint carries as found over the peak torque, and its 90 % interval. [-]
    ratio : ndarray, shape (n_units,)
        Capacity as found over as specified. [-]
    factors : dict of str to ndarray
        The ratios that ``ratio`` is the product of: friction, preload, fit, engagement, offset.
    rating : ndarray, shape (n_units,)
        Torque the joint carries when mounted as specified. [N·m]
    estimated : ndarray of bool
        Whether it was estimated from the screws.
    demand : ndarray, shape (n_units,)
        Peak torque. [N·m]
    """

    margin: Floats
    low: Floats
    high: Floats
    ratio: Floats
    factors: dict[str, Floats]
    rating: Floats
    estimated: NDArray[np.bool_]
    demand: Floats


def joint_grip(known: Known, limits: UnitLimits, nameplate: Nameplate) -> JointGrip:
    """Work out the slip margin of each friction joint.

    Parameters
    ----------
    known : Known
        What was known.
    limits : UnitLimits
        Limits of the units.
    nameplate : Nameplate
        Sizes and loads.

    Returns
    -------
    JointGrip
    """
    friction, friction_spread = _friction(known)
    preload_ratio, preload_spread = _preload(known, limits)
    factors = {
        "friction": friction,
        "preload": preload_ratio,
        "fit": _fit(known, limits, nameplate, preload_ratio),
        "engagement": _engagement(known, limits),
        "offset": _offset(known, nameplate),
    }
    ratio = np.prod(list(factors.values()), axis=0)
    rated = known.units["joint_rated_torque_nm"].to_numpy()
    estimate = _estimated_rating(known, nameplate)
    estimated = np.isnan(rated) & ~np.isnan(estimate)
    rating = np.where(np.isnan(rated), estimate, rated)
    margin = slip_margin(rating * ratio, nameplate["output_torque_nm"], nameplate["peak_factor"])
    margin = np.where(has_mounting(known.units, CLAMPED), margin, np.nan)
    given = nameplate.given
    variance = (
        SPREAD_OF_RATING**2
        + friction_spread**2
        + preload_spread**2
        + np.where(estimated, SPREAD_OF_ESTIMATE**2, 0)
        + np.where(given["output_torque_nm"], 0, SPREAD_OF_ASSUMED_TORQUE**2)
        + np.where(given["peak_factor"], 0, SPREAD_OF_ASSUMED_PEAK**2)
    )
    width = np.exp(Z90 * np.sqrt(variance))
    # Nobody knows what dirt takes, but no joint carries more for it
    most_if_clean = margin / friction * np.exp(Z90 * np.sqrt(variance - friction_spread**2))
    high = np.minimum(margin * width, most_if_clean)
    demand = nameplate["output_torque_nm"] * nameplate["peak_factor"]
    return JointGrip(margin, margin / width, high, ratio, factors, rating, estimated, demand)


def _codes(known: Known, check: str) -> NDArray[np.int64]:
    codes: NDArray[np.int64] = known.found[check].cat.codes.to_numpy().astype(np.int64)
    return codes


def _log_mean_and_spread(ratios: Floats, shares: Floats) -> tuple[float, float]:
    logs = np.log(ratios)
    mean = float(np.dot(shares, logs))
    return mean, float(np.sqrt(np.dot(shares, (logs - mean) ** 2)))


def _friction(known: Known) -> tuple[Floats, Floats]:
    """Friction in the bore over that of a clean, dry one."""
    code = _codes(known, "bore_condition")
    mean, spread = _log_mean_and_spread(FRICTION_RATIOS, np.array(USUAL_FRICTION_SHARES))
    assert len(FRICTION_RATIOS) == len(SURFACES)  # noqa: S101 - one for each word
    return (
        np.where(code >= 0, FRICTION_RATIOS[code], np.exp(mean)),
        np.where(code >= 0, _FRICTION_SPREAD[code], spread),
    )


def _preload(known: Known, limits: UnitLimits) -> tuple[Floats, Floats]:
    """Mean preload of the circle over that after the passes asked for at the stated torque."""
    screws = np.clip(known.units["screw_count"].fillna(USUAL_SCREWS).to_numpy(), 1, 64)
    required = limits.table["torque_passes_required"].to_numpy()
    made = known.found["torque_passes"].to_numpy()
    aimed, _ = mean_and_lowest_preload(screws, required)
    reached, _ = mean_and_lowest_preload(screws, np.where(np.isnan(made), required, made))
    seen = np.minimum(reached / aimed, 1.0)
    fewer = np.array([1.0, 0.92])
    mean, spread = _log_mean_and_spread(fewer, np.array(USUAL_PASSES_SHARES))
    passes = np.where(np.isnan(made), np.exp(mean), seen)
    torque = np.fmin(
        known.found["final_torque_nm"].to_numpy() / limits.table["screw_torque_nm"].to_numpy(), 1.0
    )
    low = np.minimum(known.found["screws_low"].to_numpy(), screws)
    circle = circle_force_ratio(screws, low, LOW_SCREW_RATIO)
    found = np.fmin(np.fmin(torque, circle), 1.0)
    return passes * found, np.where(np.isnan(made), spread, 0.0)


def _fit(known: Known, limits: UnitLimits, nameplate: Nameplate, preload_ratio: Floats) -> Floats:
    """Pressure on the shaft over that with a shaft of the middle of its tolerance; discs only.

    The bore is taken as H7; a shaft larger than the middle counts as the middle.
    """
    shaft = nameplate["shaft_diameter_mm"]
    low, high = hole_limits(shaft * 1e3, "H7")
    bore = np.where(np.isnan(low), shaft * 1e3, 0.5 * (low + high))
    middle = 0.5 * (
        limits.table["shaft_low_mm"].to_numpy() + limits.table["shaft_high_mm"].to_numpy()
    )
    measured = known.found["shaft_diameter_measured_mm"].to_numpy()
    specified = np.maximum(bore - middle, 0) / 1e3
    found = np.fmax(np.maximum(bore - measured, 0) / 1e3, specified)
    hub = nameplate["hub_outer_mm"]
    closing = shrink_disc.closing_pressure(np.nan_to_num(specified), shaft, hub)
    closing_found = shrink_disc.closing_pressure(np.nan_to_num(found), shaft, hub)
    rated_torque = known.units["joint_rated_torque_nm"].to_numpy()
    usual = 2.5 * nameplate["output_torque_nm"] * nameplate["peak_factor"] / 2
    torque = np.where(np.isnan(rated_torque), usual, rated_torque)
    grip = pressure_for_capacity(
        torque, shaft, nameplate["clamp_length_mm"], _FRICTION_BY_SURFACE[0].typical
    )
    ratio = shrink_disc.grip_ratio(grip, closing, closing_found, preload_ratio) / np.maximum(
        preload_ratio, 1e-9
    )
    return np.where(has_mounting(known.units, SHRINK_DISCS), ratio, 1.0)


def _engagement(known: Known, limits: UnitLimits) -> Floats:
    """Share of the capacity that the engagement leaves."""
    required = limits.table["required_engagement_mm"].to_numpy() / 1e3
    length = known.found["engagement_mm"].to_numpy() / 1e3
    # A length converted from inches may miss the required one by a rounding
    enough = known.exceedance["engagement_mm"].to_numpy() == 0
    length = np.where(enough, np.fmax(length, required), length)
    in_disc = shrink_disc.engagement_factor(length, required)
    in_bushing = tapered_bushing.engagement_factor(length, required)
    short_end = _codes(known, "shaft_end") == 1
    disc = np.where(short_end, 0.0, np.nan_to_num(in_disc, nan=1.0))
    bushing = np.fmin(np.where(short_end, SHORT_END_RATIO, 1.0), np.nan_to_num(in_bushing, nan=1.0))
    return np.where(has_mounting(known.units, SHRINK_DISCS), disc, bushing)


def _offset(known: Known, nameplate: Nameplate) -> Floats:
    """Share of the disc's length that still lies over its seat."""
    offset = known.found["disc_offset_mm"].fillna(0).to_numpy() / 1e3
    return np.maximum(1 - offset / nameplate["clamp_length_mm"], 0.0)


def _estimated_rating(known: Known, nameplate: Nameplate) -> Floats:
    """Estimate from its screws the torque [N·m] a joint carries when mounted as specified."""
    units = known.units
    diameter, _ = thread_size(units["screw_thread"].fillna("").to_numpy(dtype=object))
    one_screw = preload(
        units["screw_torque_nm"].to_numpy(), NUT_FACTORS["lubricated"].typical, diameter
    )
    axial = one_screw * units["screw_count"].to_numpy()
    cones = np.where(has_mounting(units, (TAPERED_BUSHING,)), 1.0, 2.0)
    radial = cones * radial_force(axial, CONE_HALF_ANGLE.typical, CONE_FRICTION.typical)
    return capacity_from_radial_force(
        radial, nameplate["shaft_diameter_mm"], _FRICTION_BY_SURFACE[0].typical
    )
