"""Keys: the same row twice is one row; two different rows of one key are an error."""

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from scoring.contract import Table
from scoring.intake.faults import Faults
from scoring.intake.read_table import ReadTable
from scoring.records import ROW, SOURCE_STEP


def find_double_keys(
    table: Table, read: ReadTable, good: NDArray[np.bool_], faults: Faults
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Find rows that repeat a key.

    Parameters
    ----------
    table : Table
        The contract of the table.
    read : ReadTable
        Its rows.
    good : ndarray of bool
        Rows without a fault so far; only these are compared.
    faults : Faults
        Where each of two different rows of one key is added, naming the other.

    Returns
    -------
    repeated, clashing : ndarray of bool
        Rows that say the same as an earlier one, and rows that say something else.
    """
    size = len(read.frame)
    repeated, clashing = np.zeros(size, dtype=bool), np.zeros(size, dtype=bool)
    keys = read.frame[table.key]
    if _each_above_the_last(keys):
        return repeated, clashing
    # a key that is missing names no row; where its heading is, all are
    double = good & keys.notna().to_numpy() & keys.duplicated(keep=False).to_numpy()
    double[double] = keys[double].duplicated(keep=False).to_numpy()
    if not double.any():
        return repeated, clashing
    some = read.frame.loc[double].drop(columns=ROW)
    repeated[double] = some.duplicated().to_numpy()
    distinct = double & ~repeated
    still_double = keys[distinct].duplicated(keep=False).to_numpy()
    clashing[np.flatnonzero(distinct)[still_double]] = True
    if clashing.any():
        clashing |= repeated & keys.isin(keys[clashing]).to_numpy()
        _fault_clashes(table, read.frame.loc[clashing, [table.key, ROW]], faults)
    return repeated & ~clashing, clashing


def _each_above_the_last(keys: "pd.Series[str]") -> bool:
    """Tell whether keys are in their order, and so each another: records often are numbered on."""
    texts = pa.array(keys.array, pa.large_string())
    in_order = pc.less(texts.slice(0, max(len(texts) - 1, 0)), texts.slice(1))
    return not texts.null_count and bool(pc.all(in_order, min_count=0).as_py())


def _fault_clashes(table: Table, rows: pd.DataFrame, faults: Faults) -> None:
    by_key = rows.groupby(table.key, observed=True)[ROW]
    first, last = by_key.transform("min"), by_key.transform("max")
    other = first.where(rows[ROW] != first, last)
    place, row = np.divmod(other.to_numpy(), SOURCE_STEP)
    source = np.array(faults.sources, dtype=object)[place]
    wrong = (
        "names two different rows, this one and row "
        + row.astype(str).astype(object)
        + " of "
        + source
    )
    faults.add(
        rows[ROW].to_numpy(),
        table.key,
        rows[table.key].to_numpy(dtype=object),
        wrong,
        "one row for each key, or the two rows made the same",
    )
