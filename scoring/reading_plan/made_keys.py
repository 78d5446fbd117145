"""Keys where there are none: from unit, day and order, the same on every reading."""

import pandas as pd

from scoring.contract import TABLE_BY_NAME
from scoring.contract.walkdown_kinds import WALKDOWN_KINDS
from scoring.records import DAY_COLUMN, ROW

LACKS_KEY = "lacks key"
"""Column that says which rows came from a source without keys, beside one that has them."""


def with_made_keys(table: str, frame: pd.DataFrame) -> pd.DataFrame:
    """Give the rows of a table the key that it lacks, and leave out rows that say the same.

    Two visits to a unit on one day are told apart by their kind, then by their time, then by
    their order. So a longer list keeps the keys of what was there, and a list read twice says
    nothing new.

    Parameters
    ----------
    table : str
        Its name.
    frame : DataFrame
        Texts under the names of the contract, and ``row``.

    Returns
    -------
    DataFrame
        With the key, in the order of rows.

    Examples
    --------
    >>> seen = pd.DataFrame({"unit_id": ["A", "A"], "inspected_on": ["2025-03-07"] * 2,
    ...                      "kind": ["after_rework", "periodic"], "row": [2, 3]})
    >>> with_made_keys("walkdowns", seen)["walkdown_id"].tolist()
    ['A@2025-03-07#2', 'A@2025-03-07']
    """
    key = TABLE_BY_NAME[table].key
    day_column = DAY_COLUMN.get(table)
    if day_column is None or not {"unit_id", day_column} <= set(frame.columns):
        return frame.drop(columns=LACKS_KEY, errors="ignore")
    if LACKS_KEY in frame:
        lacks = frame[LACKS_KEY].to_numpy(dtype=bool)
        bare = frame[lacks].drop(columns=[LACKS_KEY, key])
        both = [frame[~lacks].drop(columns=LACKS_KEY), with_made_keys(table, bare)]
        return pd.concat(both).sort_values(ROW, kind="stable").reset_index(drop=True)
    if key in frame:
        return frame
    said = [name for name in frame.columns if name != ROW]
    once = frame.loc[~frame.duplicated(said)]
    order = once.assign(
        day=once[day_column].str.slice(0, 10),
        rank=_rank(once),
        at=once[day_column].str.slice(10),
    ).sort_values(["rank", "at", ROW], kind="stable")
    base = order["unit_id"] + "@" + order["day"]
    if "mode" in order and table == "events":
        base = base + " " + order["mode"]
    number = base.groupby(base).cumcount() + 1
    made = base + ("#" + number.astype(str)).where(number > 1, "")
    blank = (order["unit_id"] == "") | (order["day"] == "")
    made = made.where(~blank, "")
    return once.assign(**{key: made.reindex(once.index)})


def _rank(frame: pd.DataFrame) -> "pd.Series[int]":
    if "kind" not in frame:
        return pd.Series(0, index=frame.index)
    places = {kind: place for place, kind in enumerate(WALKDOWN_KINDS)}
    return frame["kind"].map(places).fillna(len(places)).astype("int64")
