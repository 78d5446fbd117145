"""One short word for the contract that something was written by."""

import json
from hashlib import sha256

from scoring.contract import FLEET_TABLES, Check, Column
from scoring.contract.quantities import CONVERSIONS


def _column(column: Column) -> list[object]:
    declared: list[object] = [
        column.name,
        column.kind,
        column.unit,
        column.required,
        column.allowed,
    ]
    declared += [column.minimum, column.above, column.maximum, column.may_lie_ahead]
    if isinstance(column, Check):
        declared += [column.worse.name, column.seen, column.mountings]
        declared += [column.only_where, column.asked_on, column.at_most, column.part_of]
    return declared


def contract_version() -> str:
    """Return a fingerprint of the declarations: names, kinds, words, limits and units.

    Returns
    -------
    str
        12 hexadecimal digits; labels and meanings are left out, as they may be said better
        without anything having to be read differently.

    Examples
    --------
    >>> len(contract_version()), contract_version() == contract_version()
    (12, True)
    """
    content = {
        "tables": [[table.name, *map(_column, table.columns)] for table in FLEET_TABLES],
        "units": {
            suffix: [[c.suffix, c.unit, c.factor, c.offset] for c in conversions]
            for suffix, conversions in sorted(CONVERSIONS.items())
        },
    }
    return sha256(json.dumps(content, sort_keys=True, allow_nan=False).encode()).hexdigest()[:12]


CONTRACT_VERSION = contract_version()
"""The contract of this installation."""
