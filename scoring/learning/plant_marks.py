"""Marks by which a plant is known again though its records have grown, without a name."""

from collections.abc import Collection
from hashlib import sha256

from scoring.records import Fleet

MARKS = 64
"""Marks of a plant; of fewer units, one each. Ours."""

DIGITS = 16
"""Hexadecimal digits of a mark. Ours."""

SHARED = 0.5
"""Share of marks from which on two plants are one: so it is until it has grown to twice its units.
Ours. [-]"""


def plant_marks(fleet: Fleet) -> tuple[str, ...]:
    """Return the marks of a plant.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.

    Returns
    -------
    tuple of str
        The smallest digests of its units, each of id and day of hanging, sorted: which units they
        are of hangs together with nothing, and stays so as units are added (bottom sketch,
        textbook).

    Examples
    --------
    >>> from scoring.contract import FLEET_TABLES
    >>> from scoring.records import empty_table
    >>> plant_marks(Fleet(*(empty_table(table) for table in FLEET_TABLES)))
    ()
    """
    days = fleet.units["installed_on"].dt.strftime("%Y-%m-%d").fillna("")
    names = (fleet.units["unit_id"].astype(str) + "\n" + days.astype(str)).unique()
    return tuple(sorted(sha256(name.encode()).hexdigest()[:DIGITS] for name in names)[:MARKS])


def same_plant(one: Collection[str], other: Collection[str]) -> bool:
    """Tell whether two plants share so many marks that they are one.

    Examples
    --------
    >>> same_plant(["a", "b", "c"], ["b", "c", "d"]), same_plant(["a", "b", "c"], ["c", "d"])
    (True, False)
    """
    most = max(len(one), len(other))
    return most > 0 and len(set(one) & set(other)) >= SHARED * most
