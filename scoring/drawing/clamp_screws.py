"""The screws of a bushing or a disc, and what was found at them."""

from scoring.drawing.section import Callout, Section
from scoring.drawing.shapes import Role


def add_screws(section: Section, head: float, tip: float, away: float) -> None:
    """Add the clamp screws: one above stands off where some were found low."""
    s, found = section.sizes, section.found
    low = found.number("screws_low")
    off = 0.1 * s.shaft if low else 0.0
    thick = 0.09 * s.shaft
    upper = Role.FINDING if low else section.role("screws_low")
    section.screw("screw", upper, head + off, tip + off, away, thick)
    section.screw("screw", section.role("screws_low"), head, tip, -away, thick)
    at = (head + off + 0.07 * s.shaft, away)
    section.callouts.append(
        Callout(screw_words(section), at, ("screws_low", "torque_passes", "final_torque_nm"))
    )
    past = head + off + 0.3 * s.shaft
    section.places |= {
        "screws_low": (past, away),
        "final_torque_nm": (past, -away),
        "torque_passes": (past + 0.2 * s.shaft, away),
        "tightening_order": (past + 0.2 * s.shaft, -away),
    }


def screw_words(section: Section) -> tuple[str, ...]:
    """Say what was found at the screws."""
    found = section.found
    low, passes, torque = (
        found.said(check) for check in ("screws_low", "torque_passes", "final_torque_nm")
    )
    if low == passes == torque:
        return ("clamp screws", low)
    return (
        f"screws low: {low}",
        f"passes: {passes}",
        f"torque: {torque}",
    )
