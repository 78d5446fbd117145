"""The screws of a bushing or a disc, and what was found at them."""

from scoring.drawing.section import Callout, Section
from scoring.drawing.shapes import Role

CHECKS = ("screws_low", "torque_passes", "tightening_order", "final_torque_nm")
MORE_CHECKS = ("screws_missing", "screws_rechecked")
"""Of these a word stands only where something was found."""

SCREW = 0.09
OFF_WHEN_LOW = 0.12
"""Diameter of a screw, and how far one that was found low is drawn off its seat, over the shaft's
diameter; planning values of ours. [-]"""


def add_screws(section: Section, head: float, tip: float, away: float) -> None:
    """Add the clamp screws; the one below stands off where some were found low.

    Parameters
    ----------
    section : Section
        The section.
    head, tip : float
        Where the inner face of the heads and the tips lie. [mm]
    away : float
        Radius of the circle of screws. [mm]
    """
    s, found = section.sizes, section.found
    low = found.number("screws_low")
    off = OFF_WHEN_LOW * s.shaft if low else 0.0
    thick = SCREW * s.shaft
    lower = Role.FINDING if low else section.role("screws_low")
    section.screw("screw", section.role("screws_low"), (head, tip), away, thick)
    section.screw("screw", lower, (head + off, tip + off), -away, thick)
    at = (head + off + 0.5 * thick, -away)
    section.callouts.append(Callout(_words(section), at, (*CHECKS, *MORE_CHECKS), below=True))
    past = head + 0.4 * s.shaft
    section.places |= {
        "screws_low": (past, -away),
        "final_torque_nm": (past + 0.3 * s.shaft, -away),
        "torque_passes": (past, away),
        "tightening_order": (past + 0.3 * s.shaft, away),
        "screws_missing": (past + 0.6 * s.shaft, -away),
        "screws_rechecked": (past + 0.6 * s.shaft, away),
    }


def _words(section: Section) -> tuple[str, ...]:
    low, passes, order, torque = (section.found.said(check) for check in CHECKS)
    if low == passes == order == torque:
        return ("clamp screws", low)
    in_order = f", {order}" if section.found.seen("tightening_order") else ""
    return (f"screws low: {low}", f"passes: {passes}{in_order}", f"torque: {torque}")
