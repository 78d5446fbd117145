"""What drives a risk, effect by effect."""

import altair as alt
import pandas as pd

from dashboard.charts.chances import FAILURE_COLOURS, ROOM


def effects_chart(effects: pd.DataFrame, failure: str) -> alt.LayerChart:
    """Draw the multipliers of one failure with their 90 % intervals, on a scale of factors."""
    table = effects[effects["failure"] == failure]
    seen = alt.Scale(
        domain=["seen", "reported cured", "not seen"],
        range=["circle", "triangle-up", "cross"],
    )
    base = alt.Chart(table).encode(
        y=alt.Y(
            "shown:N",
            sort=list(table["shown"]),
            title=None,
            axis=alt.Axis(labelLimit=170, labelOverlap=False),
        ),
        tooltip=[
            alt.Tooltip("label:N", title="effect"),
            alt.Tooltip("state:N"),
            alt.Tooltip("basis:N", title="known"),
            alt.Tooltip("multiplier:Q", format=".2f"),
            alt.Tooltip("low:Q", format=".2f"),
            alt.Tooltip("high:Q", format=".2f"),
            alt.Tooltip("handbook:Q", format=".2f", title="by the handbook alone"),
            alt.Tooltip("origin:N", title="rests on"),
        ],
    )
    scale = alt.Scale(type="log", nice=False)
    axis = alt.Axis(title="multiplies the hazard by", values=[0.5, 1, 2, 5, 10, 20], format="~g")
    colour = FAILURE_COLOURS[failure]
    lines = base.mark_rule(color=colour, strokeWidth=2).encode(
        x=alt.X("low:Q", scale=scale, axis=axis), x2="high"
    )
    points = base.mark_point(filled=True, size=70, opacity=1, color=colour).encode(
        x=alt.X("multiplier:Q", scale=scale, axis=axis),
        shape=alt.Shape("basis:N", title=None, scale=seen, legend=None),
    )
    one = (
        alt.Chart(pd.DataFrame({"one": [1.0]}))
        .mark_rule(strokeDash=[3, 3], color="gray")
        .encode(x="one:Q")
    )
    chart: alt.LayerChart = (one + lines + points).properties(height=26 * len(table) + ROOM)
    return chart
