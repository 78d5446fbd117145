"""How often each re-work action succeeds."""

import altair as alt
import pandas as pd

from dashboard.appearance import SERIES

_COLOUR = SERIES[0]


def rework_success_chart(success: pd.DataFrame) -> alt.LayerChart:
    """Draw the chance that each action succeeds, with its 90 % interval.

    Parameters
    ----------
    success : DataFrame
        ``what``, ``looks``, ``succeeded``, ``chance``, ``low``, ``high``.

    Returns
    -------
    LayerChart
    """
    base = alt.Chart(success).encode(
        y=alt.Y(
            "what:N",
            sort=list(success["what"]),
            title=None,
            axis=alt.Axis(labelLimit=170, labelOverlap=False),
        ),
        tooltip=[
            alt.Tooltip("what:N", title="re-work"),
            alt.Tooltip("chance:Q", format=".0%", title="succeeds"),
            alt.Tooltip("low:Q", format=".0%", title="from"),
            alt.Tooltip("high:Q", format=".0%", title="to"),
            alt.Tooltip("looks:Q", title="looked at afterwards"),
            alt.Tooltip("succeeded:Q", title="of them good"),
        ],
    )
    axis = alt.Axis(format="%", tickCount=5, title="succeeds, with 90 % interval")
    scale = alt.Scale(zero=False)
    lines = base.mark_rule(strokeWidth=2, color=_COLOUR).encode(
        x=alt.X("low:Q", scale=scale, axis=axis), x2="high"
    )
    points = base.mark_point(filled=True, size=70, opacity=1, color=_COLOUR).encode(
        x=alt.X("chance:Q", scale=scale, axis=axis)
    )
    chart: alt.LayerChart = (lines + points).properties(height=28 * len(success) + 60)
    return chart
