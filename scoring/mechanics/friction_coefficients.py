"""Coefficients of friction between a shaft and the bore that grips it."""

from scoring.mechanics.provenance import Provenance, SourcedRange

_DIN_7190 = "DIN 7190-1, section 5.3, as restated on a research association's help page"

BORE_FRICTION: dict[str, SourcedRange] = {
    "clean and dry": SourcedRange(
        low=0.15,
        typical=0.15,
        high=0.20,
        unit="-",
        provenance=Provenance.PUBLISHED,
        source="low and typical: normal, high: degreased, steel on steel, " + _DIN_7190,
    ),
    "dust or dirt": SourcedRange(
        low=0.10,
        typical=0.13,
        high=0.20,
        unit="-",
        provenance=Provenance.PLANNING,
        source="planning value of ours, between oil and dry; dirt also tilts the hub",
    ),
    "oil film": SourcedRange(
        low=0.08,
        typical=0.12,
        high=0.15,
        unit="-",
        provenance=Provenance.PLANNING,
        source="typical: mineral oil, " + _DIN_7190 + "; the width is ours",
    ),
    "anti-seize or grease": SourcedRange(
        low=0.05,
        typical=0.06,
        high=0.08,
        unit="-",
        provenance=Provenance.PLANNING,
        source="planning value of ours, no published value read",
    ),
}
"""Coefficients to calculate with, by the state of bore and shaft. [-]"""
