"""Preload of a screw from its tightening torque.

The way back, a torque for a preload, is left out on purpose: a tightening torque is read from
the unit's own manual and nowhere else.
"""

from numpy.typing import ArrayLike

from scoring.mechanics.provenance import Provenance, SourcedRange
from scoring.mechanics.validity_ranges import Floats, between, not_negative, positive

_SHIGLEY = "Shigley, Mechanical Engineering Design, Table 8-15, as quoted on a public help page"
_BICKFORD_NASSAR = "Bickford & Nassar 1998, ch. 2, Table 1, as quoted in an engineering forum"
_BICKFORD = "Bickford 2007, Table 7.1 (largest value of the reported range), in a public code file"

NUT_FACTORS: dict[str, SourcedRange] = {
    "as received": SourcedRange(
        low=0.158,
        typical=0.20,
        high=0.267,
        unit="-",
        provenance=Provenance.FROM_MEMORY,
        source="low: from memory; typical: bare steel, "
        + _BICKFORD_NASSAR
        + "; high: "
        + _BICKFORD,
    ),
    "zinc-plated": SourcedRange(
        low=0.20,
        typical=0.20,
        high=0.295,
        unit="-",
        provenance=Provenance.PUBLISHED,
        source="low: " + _SHIGLEY + "; high: " + _BICKFORD_NASSAR,
    ),
    "lubricated": SourcedRange(
        low=0.12,
        typical=0.18,
        high=0.20,
        unit="-",
        provenance=Provenance.PLANNING,
        source="typical: " + _SHIGLEY + "; the width is ours",
    ),
    "anti-seize": SourcedRange(
        low=0.08,
        typical=0.12,
        high=0.23,
        unit="-",
        provenance=Provenance.FROM_MEMORY,
        source="low: from memory; typical: " + _SHIGLEY + "; high: " + _BICKFORD,
    ),
    "not known": SourcedRange(
        low=0.12,
        typical=0.20,
        high=0.30,
        unit="-",
        provenance=Provenance.PUBLISHED,
        source="from anti-seize to non-plated; typical: condition not known, " + _SHIGLEY,
    ),
}
"""Nut factors to calculate with, by the state of the threads. [-]"""


def preload(torque: ArrayLike, nut_factor: ArrayLike, diameter: ArrayLike) -> Floats:
    """Preload that a tightening torque leaves in one screw.

    Parameters
    ----------
    torque : array_like
        Tightening torque. [N·m]
    nut_factor : array_like
        Nut factor K, 0.05 to 0.6; it is not a coefficient of friction. [-]
    diameter : array_like
        Nominal diameter of the thread. [m]

    Returns
    -------
    numpy.ndarray
        F = T / (K d). [N]

    Raises
    ------
    OutOfRangeError
        If a torque is negative, a diameter not above 0 or a nut factor outside its range.

    Notes
    -----
    Source: textbook mechanics; nut factors as given in ``NUT_FACTORS``.

    Examples
    --------
    >>> round(float(preload(126.0, 0.20, 0.012)))
    52500
    """
    moment = not_negative("tightening torque", torque, "N·m")
    factor = between("nut factor", nut_factor, "", 0.05, 0.6)
    return moment / (factor * positive("thread diameter", diameter, "m"))
