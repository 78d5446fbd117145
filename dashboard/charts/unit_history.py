"""One unit over time."""

import altair as alt
import pandas as pd

from dashboard.appearance import SERIES
from dashboard.charts.chances import ROOM

DAY_AXIS = alt.Axis(format="%b %Y", labelOverlap="greedy")

_KINDS = ["hung", "walkdown", "failure", "re-work"]
_SHAPES = ["square", "circle", "cross", "triangle-up"]
_COLOURS = [SERIES[5], *SERIES[:3]]


def events_chart(events: pd.DataFrame) -> alt.Chart:
    """Draw what happened on one time line."""
    chart: alt.Chart = (
        alt.Chart(events)
        .mark_point(filled=True, size=110, opacity=1)
        .encode(
            x=alt.X("day:T", title=None, axis=DAY_AXIS),
            y=alt.Y("what:N", sort=_KINDS, title=None),
            shape=alt.Shape("what:N", scale=alt.Scale(domain=_KINDS, range=_SHAPES), legend=None),
            color=alt.Color("what:N", scale=alt.Scale(domain=_KINDS, range=_COLOURS), legend=None),
            tooltip=[
                alt.Tooltip("day:T"),
                alt.Tooltip("what:N"),
                alt.Tooltip("words:N", title="what"),
                alt.Tooltip("who:N"),
            ],
        )
        .properties(height=150)
    )
    return chart


def looks_chart(looks: pd.DataFrame) -> alt.Chart:
    """Draw what each look found, check by check; a triangle is worse than good."""
    chart: alt.Chart = (
        alt.Chart(looks)
        .mark_point(filled=True, size=70, opacity=1)
        .encode(
            x=alt.X("day:T", title=None, axis=DAY_AXIS),
            y=alt.Y(
                "check:N", sort=None, title=None, axis=alt.Axis(labelLimit=200, labelOverlap=False)
            ),
            shape=alt.Shape(
                "found:N",
                title=None,
                scale=alt.Scale(
                    domain=["good", "worse than good"], range=["circle", "triangle-up"]
                ),
                legend=alt.Legend(orient="top"),
            ),
            color=alt.Color(
                "found:N",
                title=None,
                scale=alt.Scale(domain=["good", "worse than good"], range=list(SERIES[:2])),
                legend=alt.Legend(orient="top"),
            ),
            tooltip=[
                alt.Tooltip("day:T"),
                alt.Tooltip("check:N"),
                alt.Tooltip("value:N"),
                alt.Tooltip("found:N"),
            ],
        )
        .properties(height=22 * looks["check"].nunique() + ROOM)
    )
    return chart
