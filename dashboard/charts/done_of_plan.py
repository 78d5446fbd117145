"""What became of the planned hours of a plan."""

import altair as alt
import pandas as pd

from dashboard.appearance import SERIES

HEIGHT_PX = 230
"""With title and axis, which leave room for three bars. [px]"""


def outcome_chart(table: pd.DataFrame, title: str) -> alt.LayerChart:
    """Draw planned crew-hours by what became of them.

    Parameters
    ----------
    table : DataFrame
        ``outcome``, ``hours``, ``jobs``, ``said``.
    title : str
        What it shows.

    Returns
    -------
    LayerChart
    """
    most = float(table["hours"].max())
    base = alt.Chart(table).encode(
        y=alt.Y("outcome:N", sort=None, title=None),
        x=alt.X(
            "hours:Q",
            title="planned crew-hours",
            scale=alt.Scale(domain=[0, 1.75 * most], nice=False),
        ),
        tooltip=[
            alt.Tooltip("outcome:N", title=" "),
            alt.Tooltip("hours:Q", format=",.1f", title="planned crew-hours"),
            alt.Tooltip("jobs:Q", title="jobs"),
        ],
    )
    bars = base.mark_bar(color=SERIES[0], size=22)
    words = base.mark_text(align="left", dx=6).encode(text="said:N")
    chart: alt.LayerChart = (bars + words).properties(height=HEIGHT_PX, title=title)
    return chart
