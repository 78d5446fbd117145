"""How the lives of bearings scatter about the rating life."""

from scoring.mechanics.provenance import Provenance, SourcedRange

BEARING_SLOPES: dict[str, SourcedRange] = {
    "ball": SourcedRange(
        low=10.0 / 9.0,
        typical=1.3,
        high=1.5,
        unit="-",
        provenance=Provenance.FROM_MEMORY,
        source="low: classic slope, high: slope behind a1, both from memory; typical is ours",
    ),
    "roller": SourcedRange(
        low=9.0 / 8.0,
        typical=1.3,
        high=1.5,
        unit="-",
        provenance=Provenance.FROM_MEMORY,
        source="low: classic slope, high: slope behind a1, both from memory; typical is ours",
    ),
}
"""Weibull slopes of fatigue lives. [-]"""
