"""What details of looks say of each unit: where metal touches, and which seal it is."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from scoring.contract.details import DETAILS, Detail
from scoring.records import Fleet
from scoring.timeline.last_per_unit import last_of_each, latest_position
from scoring.timeline.looks import Looks
from scoring.timeline.order import Records

Ints = NDArray[np.int64]


def details_known(
    fleet: Fleet,
    records: Records,
    looks: Mapping[str, Looks],
    cured: Mapping[str, Ints],
    today: np.datetime64,
) -> dict[str, NDArray[np.object_]]:
    """Return the details that stand by the end of a day, in the order of ``Fleet.units``.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    records : Records
        Their order.
    looks : mapping of str to Looks
        By check, the walkdowns that saw it.
    cured : mapping of str to ndarray of int, shape (n_units,)
        By check, the position of the latest reported cure; -1 for none.
    today : datetime64[D]
        The day.

    Returns
    -------
    dict of str to ndarray of object, shape (n_units,)
        By detail, what was written down last; missing where nobody wrote it down, or where since
        then its checks were reported cured or all seen good. A blank erases nothing.
    """
    return {
        detail.name: _one_detail(detail, fleet, records, looks, cured, today) for detail in DETAILS
    }


def _one_detail(  # noqa: PLR0913, PLR0917 - what it is looked up in
    detail: Detail,
    fleet: Fleet,
    records: Records,
    looks: Mapping[str, Looks],
    cured: Mapping[str, Ints],
    today: np.datetime64,
) -> NDArray[np.object_]:
    size = len(fleet.units)
    gone = np.max([cured[check] for check in detail.of], axis=0)
    good = [looks[check].where(looks[check].exceedance == 0) for check in detail.of]
    good = [one.where(one.known_from <= today) for one in good]
    seen_good = [latest_position(one.unit, one.position, size) for one in good]
    gone = np.maximum(gone, np.min(seen_good, axis=0))

    said = fleet.walkdowns[detail.name]
    row = records.walkdowns_in_order
    row = row[said.notna().to_numpy()[row]]
    record = row + records.of_table["walkdowns"].start
    unit, position = records.unit[record], records.position[record]
    stands = (records.known_from[record] <= today) & (position > gone[unit])
    row, unit = row[stands], unit[stands]
    last = last_of_each(unit)
    found = np.full(size, np.nan, dtype=object)
    found[unit[last]] = said.astype(object).to_numpy()[row[last]]
    return found
