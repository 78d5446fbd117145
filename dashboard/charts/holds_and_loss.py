"""Holds lifted against loss avoided: what the same hours can buy."""

import altair as alt
import pandas as pd

from dashboard.appearance import SERIES
from dashboard.presenters.words import in_currency

LINE, CHOSEN = SERIES[0], SERIES[1]
WORDS_RIGHT_OF = 0.6
"""Words stand left of a point that lies further right than this share of the axis."""


def front_chart(points: pd.DataFrame, currency: object) -> alt.LayerChart:
    """Draw plans of the same hours, the chosen one marked.

    Parameters
    ----------
    points : DataFrame
        ``holds_lifted``, ``loss_avoided``, ``hours``, ``jobs``, ``said``, ``chosen``.
    currency : str, optional
        Of the loss.

    Returns
    -------
    LayerChart
    """
    most = float(points["loss_avoided"].max())
    base = alt.Chart(points).encode(
        x=alt.X(
            "loss_avoided:Q",
            title=in_currency("expected loss avoided", currency),
            axis=alt.Axis(format=",~f", tickCount=5),
            scale=alt.Scale(domain=[0, 1.08 * most], nice=False),
        ),
        y=alt.Y(
            "holds_lifted:Q",
            title="holds lifted",
            axis=alt.Axis(format="d", tickMinStep=1),
            scale=alt.Scale(domain=[0, 1.15 * float(points["holds_lifted"].max()) + 0.5]),
        ),
        tooltip=[
            alt.Tooltip("holds_lifted:Q", title="holds lifted"),
            alt.Tooltip("loss_avoided:Q", format=",.0f", title="loss avoided"),
            alt.Tooltip("hours:Q", format=",.1f", title="crew-hours"),
            alt.Tooltip("jobs:Q", title="jobs"),
        ],
    )
    line = base.mark_line(color=LINE, strokeWidth=1.5, strokeDash=[4, 3])
    dots = base.mark_point(filled=True, color=LINE, size=70, opacity=1)
    mine = base.transform_filter("datum.chosen").mark_point(
        filled=True, color=CHOSEN, size=190, opacity=1, shape="diamond"
    )
    right = f"datum.loss_avoided > {WORDS_RIGHT_OF * most}"
    left_words = base.transform_filter(f"!({right})").mark_text(align="left", dx=10, dy=-8)
    right_words = base.transform_filter(right).mark_text(align="right", dx=-10, dy=12)
    words = [one.encode(text="said:N") for one in (left_words, right_words)]
    chart: alt.LayerChart = alt.LayerChart(layer=[line, dots, mine, *words]).properties(height=300)
    return chart
