"""What crew-hours are worth: loss avoided against hours."""

import altair as alt
import pandas as pd

from dashboard.appearance import SERIES

CURVE_COLOUR, CHOSEN_COLOUR = SERIES[0], SERIES[1]


def hours_chart(curve: pd.DataFrame, hours: float, used: float, avoided: float) -> alt.LayerChart:
    """Draw the most that crew-hours can avoid, the hours there are, and the plan.

    Parameters
    ----------
    curve : DataFrame
        ``hours``, ``loss_avoided``, ``an_hour_more``.
    hours : float
        Hours there are. [h]
    used, avoided : float
        Hours that the plan takes [h], and the loss that it avoids. [currency]

    Returns
    -------
    LayerChart
    """
    x = alt.X("hours:Q", title="crew-hours", scale=alt.Scale(nice=False))
    y = alt.Y("loss_avoided:Q", title="loss avoided", axis=alt.Axis(format=",~f"))
    tips = [
        alt.Tooltip("what:N", title=" "),
        alt.Tooltip("hours:Q", format=",.1f", title="crew-hours"),
        alt.Tooltip("loss_avoided:Q", format=",.0f", title="loss avoided"),
    ]
    most = alt.Chart(curve.assign(what="the most that any plan can avoid"))
    line = most.mark_line(color=CURVE_COLOUR, strokeWidth=2.5).encode(
        x=x, y=y, tooltip=[*tips, alt.Tooltip("an_hour_more:Q", format=",.0f")]
    )
    there = pd.DataFrame({"hours": [hours], "what": ["hours there are"]})
    rule = (
        alt.Chart(there)
        .mark_rule(strokeDash=[4, 3], color="gray", strokeWidth=2)
        .encode(x="hours:Q", tooltip=tips[:2])
    )
    made = pd.DataFrame({"hours": [used], "loss_avoided": [avoided], "what": ["this plan"]})
    base = alt.Chart(made).encode(x="hours:Q", y="loss_avoided:Q")
    point = base.mark_point(
        filled=True, size=120, opacity=1, color=CHOSEN_COLOUR, shape="diamond"
    ).encode(tooltip=tips)
    words = base.mark_text(
        align="left", dx=10, dy=14, color=CHOSEN_COLOUR, fontWeight="bold", fontSize=13
    ).encode(text="what:N")
    chart: alt.LayerChart = (line + rule + point + words).properties(height=280)
    return chart
