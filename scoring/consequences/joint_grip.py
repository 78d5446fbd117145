"""How near a friction joint is to slipping: ratios to its rating first, absolutes second.

Friction, nut factor and cone angle are known within a factor of several, so capacity is what the
joint carries as specified (its rated torque, or an estimate) times *as found over as specified*,
both by one model: pressure at the bore is what the screws give, less what closes the fit. What was
not seen is averaged over what is usual. What the unit drives enters only where torque carried is
held against torque asked for.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from scoring.consequences.interval import Z90
from scoring.consequences.nameplate import Nameplate
from scoring.consequences.preload_left import preload_left
from scoring.consequences.reported_cured import reported_cured
from scoring.consequences.specified_joint import SpecifiedJoint, specified_joints
from scoring.consequences.usual_cones import BUSHING_CONES, DISC_CONES, Cones
from scoring.consequences.usual_states import USUAL_FRICTION_SHARES
from scoring.contract.checks_of_the_seat import SURFACES
from scoring.contract.mountings import CLAMPED, SHRINK_DISCS
from scoring.limits import UnitLimits
from scoring.mechanics import shrink_disc, tapered_bushing
from scoring.mechanics.friction_coefficients import BORE_FRICTION
from scoring.mechanics.joint_slip import slip_margin
from scoring.records import has_mounting
from scoring.timeline.known import Known

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

SHORT_END_RATIO = 0.6
"""Engagement of a shaft end that was only seen to be short; planning value of ours. [-]"""

LEAST_RATIO_RELIED_ON = 0.05
"""Capacity as found over as specified below which none is relied on; planning value of ours. [-]"""

SPREAD_OF_TORQUE_FROM_POWER = 0.3
SPREAD_OF_ASSUMED_TORQUE = 0.4
SPREAD_OF_ASSUMED_PEAK = 0.25
"""Standard deviations of logarithms; planning values of ours. [-]"""

_FRICTION_BY_SURFACE = tuple(
    BORE_FRICTION[name]
    for name in ("clean and dry", "dust or dirt", "oil film", "anti-seize or grease")
)


def _friction_of(cones: Cones) -> tuple[Floats, Floats]:
    """Return ratio and spread for each surface; at the end those of one that nobody saw."""
    assert len(_FRICTION_BY_SURFACE) == len(SURFACES)  # noqa: S101 - one for each word
    dry = _FRICTION_BY_SURFACE[0].typical
    ratio, spread = np.array([cones.friction_ratio(f.typical) for f in _FRICTION_BY_SURFACE]).T
    # As specified is clean and dry, so only what is not gets a spread
    own = [np.log(f.high / f.low) if f.typical < dry else 0.0 for f in _FRICTION_BY_SURFACE]
    spread = np.hypot(spread, np.array(own) / (2 * Z90))
    shares, logs = np.array(USUAL_FRICTION_SHARES), np.log(ratio)
    mean = shares @ logs
    return np.append(ratio, np.exp(mean)), np.append(spread, np.sqrt(shares @ (logs - mean) ** 2))


_FRICTION = np.array([_friction_of(cones) for cones in (BUSHING_CONES, DISC_CONES)])

GRIP_BY_SURFACE_IN_A_BUSHING, GRIP_BY_SURFACE_IN_A_DISC = (
    tuple(float(ratio) for ratio in _FRICTION[kind, 0, : len(SURFACES)]) for kind in (0, 1)
)
"""Torque by the friction of each surface over that of a clean, dry one. [-]"""


@dataclass(frozen=True)
class JointGrip:
    """Slip margin of each friction joint; missing for keyed bores and where nothing is known.

    Attributes
    ----------
    margin, low, high : ndarray, shape (n_units,)
        Torque the joint carries as found over the peak torque, and its 90 % interval; missing
        also where grip cannot be relied on. [-]
    ratio : ndarray, shape (n_units,)
        Capacity as found over as specified; 0 where grip cannot be relied on. [-]
    factors : dict of str to ndarray
        The ratios that make it: friction, preload, fit, engagement, offset.
    rating : ndarray, shape (n_units,)
        Torque the joint carries when mounted as specified. [N·m]
    estimated : ndarray of bool
        Whether it was estimated from the screws.
    demand : ndarray, shape (n_units,)
        Peak torque. [N·m]
    relied_on : ndarray of bool
        Whether grip can be relied on at all; also true for a keyed bore, which has none.
    log_spread : ndarray, shape (n_units,)
        Standard deviation of the margin's logarithm. [-]
    spread_as_specified : ndarray, shape (n_units,)
        That of the margin as specified, whatever was found; infinite where no rating is known. [-]
    not_on_record : dict of str to ndarray of bool
        Which columns of ``units`` that the margin rests on were not given.
    words : tuple of (ndarray of bool, str)
        For which units what was assumed.
    """

    margin: Floats
    low: Floats
    high: Floats
    ratio: Floats
    factors: dict[str, Floats]
    rating: Floats
    estimated: Flags
    demand: Floats
    relied_on: Flags
    log_spread: Floats
    spread_as_specified: Floats
    not_on_record: dict[str, Flags] = field(default_factory=dict)
    words: tuple[tuple[Flags, str], ...] = ()


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
    clamped, disc = (has_mounting(known.units, some) for some in (CLAMPED, SHRINK_DISCS))
    joint = _each_once(known, limits, nameplate)
    friction, friction_spread = _friction(known, disc)
    preload, preload_spread = preload_left(known, limits)
    engagement, short_in_disc = _engagement(known, disc)
    closing = _closing_found(known, nameplate, joint, disc)
    # In a rating too low or too high by its own error the fit takes another share
    aside = np.exp(Z90 * joint.spread)
    pressed, if_low, if_high = (
        shrink_disc.grip_ratio(joint.pressure * by, joint.closing, closing, preload)
        for by in (1.0, 1 / aside, aside)
    )
    factors = {
        "friction": friction,
        "preload": preload,
        "fit": pressed / np.maximum(preload, 1e-9),
        "engagement": engagement,
        "offset": _offset(known, nameplate, disc),
    }
    besides = friction * engagement * factors["offset"]
    ratio = besides * pressed
    relied_on = ~clamped | (~short_in_disc & (ratio >= LEAST_RATIO_RELIED_ON))
    demand = nameplate["output_torque_nm"] * nameplate["peak_factor"]
    specified = np.hypot(joint.spread, _spread_of_demand(nameplate))
    certain = specified**2 + preload_spread**2
    log_spread = np.sqrt(certain + friction_spread**2)
    rating = np.where(clamped & relied_on, joint.rating, np.nan)
    margin, lowest, highest = (
        slip_margin(
            rating * besides * part, nameplate["output_torque_nm"], nameplate["peak_factor"]
        )
        for part in (pressed, if_low, if_high)
    )
    # Nobody knows what dirt takes, but no joint carries more for it
    most_if_clean = highest / friction * np.exp(Z90 * np.sqrt(certain))
    return JointGrip(
        margin=margin,
        low=lowest / np.exp(Z90 * log_spread),
        high=np.minimum(highest * np.exp(Z90 * log_spread), most_if_clean),
        ratio=np.where(relied_on, ratio, 0.0),
        factors=factors,
        rating=joint.rating,
        estimated=joint.estimated,
        demand=demand,
        relied_on=relied_on,
        log_spread=log_spread,
        spread_as_specified=np.where(np.isnan(joint.rating), np.inf, specified),
        not_on_record={
            "joint_rated_torque_nm": known.units["joint_rated_torque_nm"].isna().to_numpy(),
            "output_torque_nm": ~nameplate.given["output_torque_nm"],
            "peak_factor": ~nameplate.given["peak_factor"],
        },
        words=(*joint.words, *_words(known, joint, disc)),
    )


def _each_once(known: Known, limits: UnitLimits, nameplate: Nameplate) -> SpecifiedJoint:
    """Work out every joint as specified once, however often its unit is asked about."""
    _, first, again = np.unique(known.place, return_index=True, return_inverse=True)
    if len(first) == len(again):
        return specified_joints(known.units, limits.table, nameplate)
    once = specified_joints(
        known.units.iloc[first].reset_index(drop=True),
        limits.table.iloc[first].reset_index(drop=True),
        nameplate.at(first),
    )
    return once.at(again)


def _spread_of_demand(nameplate: Nameplate) -> Floats:
    """Return how unsure the peak torque is, as a standard deviation of its logarithm."""
    torque = np.select(
        [nameplate.given["output_torque_nm"], nameplate.torque_from_power],
        [0.0, SPREAD_OF_TORQUE_FROM_POWER],
        SPREAD_OF_ASSUMED_TORQUE,
    )
    peak = np.where(nameplate.given["peak_factor"], 0.0, SPREAD_OF_ASSUMED_PEAK)
    spread: Floats = np.hypot(torque, peak)
    return spread


def _codes(known: Known, check: str) -> NDArray[np.int64]:
    codes: NDArray[np.int64] = known.found[check].cat.codes.to_numpy().astype(np.int64)
    return codes


def _friction(known: Known, disc: Flags) -> tuple[Floats, Floats]:
    """Torque by the friction in the bore over that of a clean, dry one, and its spread."""
    # of a surface that nobody saw the code is -1, and its place is the last
    kind, code = disc.astype(np.int64), _codes(known, "bore_condition")
    ratio, spread = _FRICTION[kind, 0, code], _FRICTION[kind, 1, code]
    # reported cured it counts as clean, and is as sure as it was
    cured = reported_cured(known, "bore_condition")
    if known.hypothetical is not None:
        before = _codes(known.hypothetical.before, "bore_condition")
        spread = np.where(cured, np.minimum(spread, _FRICTION[kind, 1, before]), spread)
    return np.where(cured, 1.0, ratio), spread


def _closing_found(
    known: Known, nameplate: Nameplate, joint: SpecifiedJoint, disc: Flags
) -> Floats:
    """Pressure [Pa] that closes the fit as found; a shaft above its middle counts as the middle."""
    measured = known.found["shaft_diameter_measured_mm"].to_numpy() / 1e3
    shaft, hub = nameplate["shaft_diameter_mm"], nameplate["hub_outer_mm"]
    gap = np.nan_to_num(np.maximum(joint.bore - measured, 0.0))
    found = np.where(disc, shrink_disc.closing_pressure(gap, shaft, hub), 0.0)
    return np.maximum(found, joint.closing)


def _engagement(known: Known, disc: Flags) -> tuple[Floats, Flags]:
    """Share of the capacity that the engagement leaves, and where a disc clamps an empty hub.

    Only what the unit's own manual asks for is held against it.
    """
    required = known.units["required_engagement_mm"].to_numpy() / 1e3
    length = known.found["engagement_mm"].to_numpy() / 1e3
    # A length converted from inches may miss the required one by a rounding
    enough = known.exceedance["engagement_mm"].to_numpy() == 0
    length = np.where(enough, np.fmax(length, required), length)
    short_end = _codes(known, "shaft_end") == 1
    in_disc = np.nan_to_num(shrink_disc.engagement_factor(length, required), nan=1.0)
    in_bushing = np.nan_to_num(tapered_bushing.engagement_factor(length, required), nan=1.0)
    by_end = np.where(short_end, np.where(disc, 0.0, SHORT_END_RATIO), 1.0)
    left = np.minimum(np.where(disc, in_disc, in_bushing), by_end)
    return left, disc & (left == 0)


def _offset(known: Known, nameplate: Nameplate, disc: Flags) -> Floats:
    """Share of the disc's length that still lies over its seat."""
    offset = known.found["disc_offset_mm"].fillna(0).to_numpy() / 1e3
    return np.where(disc, np.maximum(1 - offset / nameplate["clamp_length_mm"], 0.0), 1.0)


def _words(known: Known, joint: SpecifiedJoint, disc: Flags) -> tuple[tuple[Flags, str], ...]:
    """Say what of the joint as found rests on a usual value."""
    measured = known.found["shaft_diameter_measured_mm"].notna().to_numpy()
    return ((disc & (measured | joint.estimated), "bore of class H7"),)
