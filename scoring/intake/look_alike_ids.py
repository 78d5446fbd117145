"""Two ids that look the same and are not: somebody typed one of them in another alphabet."""

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from scoring.contract import Table
from scoring.intake.faults import Faults
from scoring.intake.look_alike_texts import PLAIN, foreign_in, looks_like
from scoring.intake.plain_texts import all_plain
from scoring.intake.row_rules import add_row_faults
from scoring.records import ROW, SOURCE_STEP


def fault_look_alikes(table: Table, frame: pd.DataFrame, faults: Faults) -> NDArray[np.bool_]:
    """Add a fault for each row whose id looks like another one of its column; return which.

    Parameters
    ----------
    table : Table
        The contract of the rows.
    frame : DataFrame
        The rows.
    faults : Faults
        Collects what is wrong; each fault names both ids.

    Returns
    -------
    ndarray of bool, shape (n_rows,)
    """
    broken = np.zeros(len(frame), dtype=bool)
    for name in (table.key, "asset_id"):
        if name not in table.column_by_name:
            continue
        twins = look_alikes(frame[name])
        here = frame[name].isin(twins).to_numpy(dtype=bool)
        if here.any():
            some = frame.loc[here].drop_duplicates(name)
            rows = dict(zip(some[name], some[ROW], strict=True))
            words = {
                one: alike_words(one, other, _place(rows[other], faults))
                for one, other in twins.items()
            }
            wrong = frame.loc[here, name].map(words).to_numpy(dtype=object)
            add_row_faults(frame, here, name, wrong, RIGHT, faults)
            broken |= here
    return broken


RIGHT = "one id typed alike everywhere, in plain letters, digits and hyphens"
"""What would be right."""


def look_alikes(ids: "pd.Series[str]") -> dict[str, str]:
    r"""Find ids that look like another one.

    Parameters
    ----------
    ids : Series of str
        May hold an id many times, and missing ones.

    Returns
    -------
    dict of str to str
        For each such id another one that looks like it.

    Examples
    --------
    >>> found = look_alikes(pd.Series(["CH-1", "\u0421H-1", "CH-2"]))
    >>> [(ascii(one), ascii(other)) for one, other in found.items()]
    [("'\\u0421H-1'", "'CH-1'"), ("'CH-1'", "'\\u0421H-1'")]
    """
    if all_plain(pa.array(ids.array, pa.large_string())):
        return {}
    there = ids.dropna()
    plain = there.str.match(PLAIN).to_numpy(dtype=bool)
    if plain.all():
        return {}
    odd = pd.Series(there[~plain].unique(), dtype=object)
    looks = odd.map(looks_like)
    alike = pd.Series(there[plain & there.isin(looks).to_numpy(dtype=bool)].unique(), dtype=object)
    both = pd.concat([odd, alike], ignore_index=True)
    groups = both.groupby(pd.concat([looks, alike], ignore_index=True))
    first, last = groups.transform("first"), groups.transform("last")
    other = first.where(first != both, last)
    different = (other != both).to_numpy(dtype=bool)
    return dict(zip(both[different].tolist(), other[different].tolist(), strict=True))


def alike_words(one: str, other: str, where: str) -> str:
    """Say of an id what other one looks like it, and by which characters they differ."""
    strange = foreign_in(one) or foreign_in(other)
    whose = "it has" if foreign_in(one) else "the other has"
    return f"looks the same as {other!r} {where} and is another id: {whose} {strange}"


def _place(row: int, faults: Faults) -> str:
    place, number = divmod(row, SOURCE_STEP)
    return f"in row {number} of {faults.sources[place]}"
