"""The fleet over time."""

import altair as alt
import pandas as pd

from scoring.drawing.look_tokens import SERIES

SITE_SHAPES = ["circle", "square", "diamond", "triangle-up", "cross", "triangle-down"]


def expected_failures_chart(by_site: pd.DataFrame, failure: str) -> alt.Chart:
    """Draw by site how many of 100 units are expected to fail within a year."""
    table = by_site[by_site["failure"] == failure]
    chart: alt.Chart = (
        alt.Chart(table)
        .mark_line(point=alt.OverlayMarkDef(filled=True, size=45))
        .encode(
            x=alt.X(
                "yearmonth(month_end):O",
                title=None,
                axis=alt.Axis(format="%b %Y", labelOverlap=True, labelAngle=0),
            ),
            y=alt.Y("failing_of_100_units:Q", title="of 100 units, within a year"),
            color=alt.Color(
                "site:N",
                title=None,
                scale=alt.Scale(range=list(SERIES)),
                legend=alt.Legend(orient="top", columns=3),
            ),
            shape=alt.Shape("site:N", title=None, scale=alt.Scale(range=SITE_SHAPES)),
            tooltip=[
                alt.Tooltip("site:N"),
                alt.Tooltip("month_end:T", title="month's end"),
                alt.Tooltip("failing_of_100_units:Q", format=".2f", title="expected"),
                alt.Tooltip("units:Q"),
            ],
        )
        .properties(height=280)
    )
    return chart


def holds_chart(holds: pd.DataFrame, ages: tuple[str, ...]) -> alt.Chart:
    """Draw open holds at each month's end by how long they have stood."""
    chart: alt.Chart = (
        alt.Chart(holds.assign(age_order=holds["age"].map(list(ages).index)))
        .mark_bar()
        .encode(
            x=alt.X(
                "yearmonth(month_end):O",
                title=None,
                axis=alt.Axis(format="%b %Y", labelOverlap=True, labelAngle=0),
            ),
            y=alt.Y("holds:Q", title="open holds"),
            color=alt.Color(
                "age:N",
                title=None,
                sort=list(ages),
                scale=alt.Scale(domain=list(ages), range="ordinal"),
                legend=alt.Legend(orient="top", direction="horizontal"),
            ),
            order=alt.Order("age_order:Q"),
            tooltip=[alt.Tooltip("month_end:T", title="month's end"), "age:N", "holds:Q"],
        )
        .properties(height=260)
    )
    return chart


def right_chart(shares: pd.DataFrame) -> alt.LayerChart:
    """Draw the share of installations right the first time, half-year by half-year."""
    base = alt.Chart(shares).encode(
        x=alt.X("half_year:O", title="hung in", axis=alt.Axis(labelAngle=0, labelOverlap=True)),
        tooltip=[
            alt.Tooltip("half_year:O", title="hung in"),
            alt.Tooltip("share:Q", format=".0%", title="right"),
            alt.Tooltip("low:Q", format=".0%", title="from"),
            alt.Tooltip("high:Q", format=".0%", title="to"),
            alt.Tooltip("right:Q", title="right"),
            alt.Tooltip("judged:Q", title="judged"),
            alt.Tooltip("hung:Q", title="hung"),
        ],
    )
    scale = alt.Scale(domain=[0, 1])
    y = alt.Y("share:Q", title="right the first time", axis=alt.Axis(format="%"), scale=scale)
    lines = base.mark_rule(strokeWidth=2, color=SERIES[0]).encode(
        y=alt.Y("low:Q", scale=scale), y2="high"
    )
    points = base.mark_point(filled=True, opacity=1, size=70, color=SERIES[0]).encode(y=y)
    chart: alt.LayerChart = (points + lines).properties(height=240)
    return chart


def funnel_chart(groups: pd.DataFrame) -> alt.LayerChart:
    """Draw the share of each site or crew against how many installations it rests on.

    Parameters
    ----------
    groups : DataFrame
        ``name``, ``kind`` (site or crew), ``of``, ``share``, ``low``, ``high``, ``stands``.
    """
    scale = alt.Scale(domain=[0, 1])
    base = alt.Chart(groups).encode(
        x=alt.X("of:Q", title="installations judged", scale=alt.Scale(zero=True)),
        tooltip=[
            alt.Tooltip("name:N", title="name"),
            alt.Tooltip("share:Q", format=".0%", title="right"),
            alt.Tooltip("of:Q", title="judged"),
            alt.Tooltip("low:Q", format=".0%", title="luck from"),
            alt.Tooltip("high:Q", format=".0%", title="luck to"),
        ],
    )
    y = alt.Y("share:Q", title="right the first time", axis=alt.Axis(format="%"), scale=scale)
    luck = base.mark_rule(strokeWidth=6, opacity=0.3, color=SERIES[5]).encode(
        y=alt.Y("low:Q", scale=scale), y2="high"
    )
    points = base.mark_point(filled=True, opacity=1, size=80).encode(
        y=y,
        shape=alt.Shape(
            "kind:N",
            scale=alt.Scale(domain=["site", "crew"], range=["square", "circle"]),
            legend=None,
        ),
        color=alt.Color(
            "kind:N",
            scale=alt.Scale(domain=["site", "crew"], range=[SERIES[1], SERIES[0]]),
            legend=None,
        ),
    )
    outside = base.transform_filter("datum.stands != 'within'")
    names = outside.mark_text(align="left", dx=8).encode(y=y, text="name:N")
    chart: alt.LayerChart = (luck + points + names).properties(height=280)
    return chart
