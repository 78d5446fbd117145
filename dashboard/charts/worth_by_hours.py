"""How the worth of looks piles up over the hours."""

import altair as alt
import pandas as pd

from dashboard.appearance import SERIES
from dashboard.presenters.words import in_currency


def worth_chart(table: pd.DataFrame, title: str, currency: object) -> alt.Chart:
    """Draw what the first hours find, the visits that are worth most an hour first.

    Parameters
    ----------
    table : DataFrame
        ``hours``, ``worth``: of so many hours together.
    title : str
        What it shows.
    currency : str, optional
        Of the worth.
    """
    chart: alt.Chart = (
        alt.Chart(table, title=title)
        .mark_line(color=SERIES[0], strokeWidth=2.5, point=alt.OverlayMarkDef(size=24))
        .encode(
            x=alt.X("hours:Q", title="inspector-hours, the visits worth most an hour first"),
            y=alt.Y(
                "worth:Q",
                title=in_currency("worth together", currency),
                axis=alt.Axis(format=",~f"),
            ),
            tooltip=[
                alt.Tooltip("hours:Q", format=".1f", title="the first hours"),
                alt.Tooltip("worth:Q", format=",.0f", title="worth together"),
            ],
        )
        .properties(height=240)
    )
    return chart
