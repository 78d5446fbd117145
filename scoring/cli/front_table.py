"""The front of a shutdown as ``mount-risk plan --front`` prints it."""

import pandas as pd
from rich import box
from rich.table import Table


def front_table(points: pd.DataFrame) -> Table:
    """Lay out plans from most holds lifted to most loss avoided.

    Parameters
    ----------
    points : DataFrame, shape (n_plans, 5)
        From ``table_of``.

    Returns
    -------
    Table
    """
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False)
    for heading in ("holds lifted", "holds that stay", "loss avoided", "crew-hours", "jobs"):
        table.add_column(heading, justify="right", no_wrap=True)
    table.add_column("")
    last = len(points) - 1
    for at, row in enumerate(points.to_dict("records")):
        ends = [("most holds", 0), ("most loss avoided", last)]
        table.add_row(
            f"{row['holds_lifted']}",
            f"{row['holds_left']}",
            f"{row['loss_avoided']:,.0f}",
            f"{row['hours']:g}",
            f"{row['jobs']}",
            ", ".join(words for words, end in ends if end == at),
        )
    return table
