"""How the expected loss piles up over the units."""

import altair as alt
import pandas as pd

from dashboard.appearance import SERIES
from dashboard.presenters.words import in_currency

HELD, RUNNING = SERIES[1], SERIES[0]

BELOW_THE_LINE, ABOVE_THE_AXIS = 0.07, 0.1
"""Shares of the height by which words stand clear of the line above and of the axis below."""


def loss_chart(table: pd.DataFrame, currency: object, span: str = "a year") -> alt.LayerChart:
    """Draw the loss of the first units together, holds apart from those that may run.

    Parameters
    ----------
    table : DataFrame
        ``units``, ``loss``, ``part``.
    currency : str, optional
        Of the loss.
    span : str
        So far ahead it reaches.

    Returns
    -------
    LayerChart
    """
    base = alt.Chart(table).encode(
        x=alt.X(
            "units:Q",
            title="units, those that must not run first, then by loss",
            scale=alt.Scale(nice=False),
        ),
        y=alt.Y(
            "loss:Q",
            title=in_currency(f"expected loss of {span}", currency),
            axis=alt.Axis(format=",~f"),
        ),
        tooltip=[
            alt.Tooltip("units:Q", format=",", title="the first units"),
            alt.Tooltip("loss:Q", format=",.0f", title="expected loss together"),
        ],
    )
    running = base.mark_line(color=RUNNING, strokeWidth=2.5)
    held = base.transform_filter("datum.part == 'must not run'").mark_area(
        color=HELD, line={"color": HELD, "strokeWidth": 2.5}, opacity=0.5
    )
    last, most = table[table["part"] == "must not run"].tail(1), table["loss"].max()
    below = (last["loss"] - BELOW_THE_LINE * most).clip(lower=ABOVE_THE_AXIS * most)
    words = (
        alt.Chart(last.assign(said="■ must not run", loss=below))
        .mark_text(align="left", dx=20)
        .encode(x="units:Q", y="loss:Q", text="said:N")
    )
    chart: alt.LayerChart = (running + held + words).properties(height=240)
    return chart
