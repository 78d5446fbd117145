"""The fleet over time."""

import altair as alt
import pandas as pd

SITE_COLOURS = ["#0072B2", "#E69F00", "#009E73", "#CC79A7", "#56B4E9", "#D55E00"]
SITE_SHAPES = ["circle", "square", "diamond", "triangle-up", "cross", "triangle-down"]
_AGE_COLOURS = ["#56B4E9", "#E69F00", "#D55E00"]


def expected_failures_chart(by_site: pd.DataFrame, failure: str) -> alt.Chart:
    """Draw by site how many of 100 units are expected to fail within a year."""
    table = by_site[by_site["failure"] == failure]
    chart: alt.Chart = (
        alt.Chart(table)
        .mark_line(point=alt.OverlayMarkDef(filled=True, size=45))
        .encode(
            x=alt.X("month_end:T", title=None, axis=alt.Axis(format="%b %Y")),
            y=alt.Y("failing_of_100_units:Q", title="of 100 units, within a year"),
            color=alt.Color(
                "site:N",
                title=None,
                scale=alt.Scale(range=SITE_COLOURS),
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
            x=alt.X("yearmonth(month_end):O", title=None, axis=alt.Axis(format="%b %y")),
            y=alt.Y("holds:Q", title="open holds"),
            color=alt.Color(
                "age:N",
                title=None,
                sort=list(ages),
                scale=alt.Scale(domain=list(ages), range=_AGE_COLOURS),
                legend=alt.Legend(orient="top", columns=2),
            ),
            order=alt.Order("age_order:Q"),
            tooltip=[alt.Tooltip("month_end:T", title="month's end"), "age:N", "holds:Q"],
        )
        .properties(height=260)
    )
    return chart


def right_chart(shares: pd.DataFrame) -> alt.LayerChart:
    """Draw the share of installations right the first time, quarter by quarter."""
    base = alt.Chart(shares).encode(
        x=alt.X("quarter:T", title=None, axis=alt.Axis(format="%b %Y")),
        tooltip=[
            alt.Tooltip("quarter:T"),
            alt.Tooltip("share:Q", format=".0%"),
            "right:Q",
            "judged:Q",
            "inspected:Q",
        ],
    )
    y = alt.Y("share:Q", title="right the first time", axis=alt.Axis(format="%"))
    line = base.mark_line().encode(y=y.scale(domain=[0, 1]))
    points = base.mark_point(filled=True, opacity=1).encode(
        y=y.scale(domain=[0, 1]), size=alt.Size("judged:Q", title="judged")
    )
    chart: alt.LayerChart = (line + points).properties(height=240)
    return chart
