"""What is questioned at once: a value so far out that it is sooner mistyped than measured.

A questioned value is allowed; it only has to be confirmed. Every limit here is a planning value
of ours: it says nothing of what is good, and the unit's own manual comes first.
"""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Bound:
    """One end of a plausible range: fixed, or by a column of the table ``units``.

    Attributes
    ----------
    fixed : float or None
        Where ``of`` is empty, or blank at a unit, in the unit of the check; None: no bound.
    of : str
        The column of ``units`` that it goes by; empty: none.
    times, plus : float
        ``times`` its value ``plus`` so much.
    """

    fixed: float | None = None
    of: str = ""
    times: float = 1.0
    plus: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Plausible:
    """The range of a measured check within which nothing is asked.

    Attributes
    ----------
    low, high : Bound
        Its ends; what lies at an end is within.
    """

    low: Bound = Bound()
    high: Bound = Bound()


PLAUSIBLE: dict[str, Plausible] = {
    "engagement_mm": Plausible(
        low=Bound(of="shaft_diameter_mm", times=0.25),
        high=Bound(of="shaft_diameter_mm", times=4),
    ),
    "shaft_diameter_measured_mm": Plausible(
        low=Bound(of="shaft_diameter_mm", plus=-1),
        high=Bound(of="shaft_diameter_mm", plus=1),
    ),
    "shaft_runout_mm": Plausible(high=Bound(fixed=3)),
    "torque_passes": Plausible(high=Bound(fixed=6)),
    "final_torque_nm": Plausible(
        low=Bound(of="screw_torque_nm", times=0.5),
        high=Bound(of="screw_torque_nm", times=1.5),
    ),
    "screws_low": Plausible(high=Bound(of="screw_count", fixed=24)),
    "collar_gap_mm": Plausible(high=Bound(fixed=10)),
    "disc_offset_mm": Plausible(high=Bound(fixed=20)),
    "isolator_squeeze_mm": Plausible(
        high=Bound(of="isolator_thickness_mm", times=0.8, fixed=20),
    ),
    "smallest_clearance_mm": Plausible(high=Bound(fixed=500)),
    "arm_misset_mm": Plausible(high=Bound(fixed=50)),
    "arm_angle_deg": Plausible(low=Bound(fixed=30)),
    "running_temperature_c": Plausible(
        low=Bound(of="ambient_c", plus=-5, fixed=0), high=Bound(fixed=140)
    ),
    "vibration_mm_s": Plausible(low=Bound(fixed=0.1), high=Bound(fixed=45)),
}
"""By check, in the contract's unit; planning values of ours.

No torque is plausible or not until the unit's own record states one: we supply none.
"""
