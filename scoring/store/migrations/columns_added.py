"""The whole of a step that adds columns to a table of records: for new checks, say.

A step is never changed after a release. So it names its columns and their kinds itself, and does
not ask the contract, which goes on.
"""

from collections.abc import Callable
from typing import Any

import sqlalchemy as sa
from alembic import op

Step = Callable[[], None]


def columns_added(
    table: str, *, texts: str = "", numbers: str = "", counts: str = ""
) -> tuple[Step, Step]:
    """Return ``upgrade`` and ``downgrade`` of a step that adds columns, blank in every record.

    Parameters
    ----------
    table : str
        The table of records: ``walkdowns`` for a check.
    texts, numbers, counts : str
        Names of the columns with a space between, by what they hold: words of a list, dates and
        text; numbers; whole numbers.

    Returns
    -------
    tuple of callable
        What the step calls ``upgrade`` and ``downgrade``.

    Examples
    --------
    The whole of ``versions/v0009_key_wear.py``, after the line that says what it is for::

        from scoring.store.migrations.columns_added import columns_added

        revision, down_revision = "0009", "0008"
        upgrade, downgrade = columns_added("walkdowns", texts="key_wear", numbers="key_play_mm")
    """
    kinds: tuple[tuple[str, type[sa.types.TypeEngine[Any]]], ...] = (
        (texts, sa.Text),
        (numbers, sa.Double),
        (counts, sa.Integer),
    )
    columns = [(name, sql_type) for names, sql_type in kinds for name in names.split()]

    def upgrade() -> None:
        for name, sql_type in columns:
            op.add_column(table, sa.Column(name, sql_type, nullable=True))

    def downgrade() -> None:
        for name, _ in reversed(columns):
            op.drop_column(table, name)

    return upgrade, downgrade
