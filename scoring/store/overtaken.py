"""Which walkdowns come in as an older copy of what was corrected in the store since."""

import json
from collections.abc import Collection

import pandas as pd
from sqlalchemy import Connection, select

from scoring.contract import WALKDOWNS
from scoring.store.schema import HISTORY
from scoring.store.stored_values import digest, stored_rows


def overtaken_walkdowns(
    connection: Connection, walkdowns: pd.DataFrame, from_forms: Collection[str]
) -> set[str]:
    """Return walkdowns of a form that were corrected in the store since they came in.

    Loading an old copy of a route again must not undo a correction.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    walkdowns : DataFrame
        The good walkdowns that come in.
    from_forms : collection of str
        Those of them that a form kept in a file.

    Returns
    -------
    set of str
    """
    there = walkdowns[walkdowns["walkdown_id"].isin(list(from_forms))]
    return {
        str(row["walkdown_id"])
        for row in stored_rows(there, WALKDOWNS)
        if digest(row) in _digests_before(connection, str(row["walkdown_id"]))
    }


def _digests_before(connection: Connection, walkdown_id: str) -> set[str]:
    """Return what names the contents that a walkdown had before its last version."""
    versions = connection.scalars(
        select(HISTORY.c.after)
        .where(HISTORY.c.about == WALKDOWNS.name, HISTORY.c.key == walkdown_id)
        .order_by(HISTORY.c.history_id)
    ).all()
    contents = [digest(json.loads(after or "{}")) for after in versions]
    return set(contents[:-1]) - set(contents[-1:])
