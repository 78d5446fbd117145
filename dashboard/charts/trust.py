"""How well failures were predicted, and what they say."""

import altair as alt
import pandas as pd

from dashboard.appearance import SERIES
from dashboard.charts.chances import FAILURE_COLOURS, FAILURE_SHAPES, ROOM

HANDBOOK_COLOUR, FLEET_COLOUR, SEEN_COLOUR = SERIES[5], SERIES[0], SERIES[1]
WAYS = ("handbook", "handbook and fleet", "count of findings")
_PREDICTED = list(WAYS[:2])
_WAY_COLOURS = alt.Scale(domain=_PREDICTED, range=[HANDBOOK_COLOUR, FLEET_COLOUR])
_WAY_SHAPES = alt.Scale(domain=_PREDICTED, range=["diamond", "circle"])


def years_chart(years: pd.DataFrame, failure: str) -> alt.LayerChart:
    """Draw failures that came, with the limits of chance, beside those predicted, year by year."""
    table = years[years["failure"] == failure]
    came = alt.Chart(table).encode(
        x=alt.X("year:N", title="in the year from", axis=alt.Axis(labelAngle=0)),
        tooltip=[
            alt.Tooltip("year:N", title="year from"),
            alt.Tooltip("observed:Q", title="came"),
            alt.Tooltip("handbook:Q", format=".1f", title="handbook alone predicted"),
            alt.Tooltip("fleet:Q", format=".1f", title="handbook and fleet predicted"),
            alt.Tooltip("units:Q", title="units followed"),
        ],
    )
    y = alt.Y("low:Q", title="failures in the year")
    colour = FAILURE_COLOURS[failure]
    limits = came.mark_rule(strokeWidth=2, color=colour).encode(y=y, y2="high:Q")
    heard = not table.empty  # a mark without any points has nothing to say
    seen = came.mark_point(filled=True, size=90, opacity=1, color=colour, aria=heard).encode(
        y="observed:Q"
    )
    marks = table.melt(
        id_vars=["year"], value_vars=["handbook", "fleet"], var_name="way", value_name="predicted"
    )
    marks["way"] = marks["way"].replace({"fleet": "handbook and fleet"})
    predictions = (
        alt.Chart(marks)
        .mark_point(size=110, strokeWidth=2, filled=False, opacity=1)
        .encode(
            x="year:N",
            y="predicted:Q",
            xOffset=alt.XOffset("way:N"),
            color=alt.Color(
                "way:N", title=None, scale=_WAY_COLOURS, legend=alt.Legend(orient="top", columns=2)
            ),
            shape=alt.Shape("way:N", title=None, scale=_WAY_SHAPES),
        )
    )
    chart: alt.LayerChart = (limits + seen + predictions).properties(height=320)
    return chart


def groups_chart(groups: pd.DataFrame, failure: str) -> alt.LayerChart:
    """Draw observed over expected failures against the chance predicted, by group of like risk."""
    table = groups[groups["failure"] == failure]
    base = alt.Chart(table).encode(
        x=alt.X(
            "chance:Q",
            title="chance within a year, as predicted",
            scale=alt.Scale(type="log", nice=False, padding=20),
            axis=alt.Axis(format="~%"),
        ),
        color=alt.Color(
            "way:N", title=None, scale=_WAY_COLOURS, legend=alt.Legend(orient="top", columns=2)
        ),
        tooltip=[
            alt.Tooltip("way:N", title="predicted by"),
            alt.Tooltip("chance:Q", format=".1%"),
            alt.Tooltip("observed:Q", title="came"),
            alt.Tooltip("expected:Q", format=".1f", title="predicted"),
            alt.Tooltip("ratio:Q", format=".2f", title="observed over predicted"),
            alt.Tooltip("units:Q"),
        ],
    )
    scale = alt.Scale(type="symlog", constant=0.25, nice=False)
    axis = alt.Axis(values=[0, 0.25, 0.5, 1, 2, 4, 8], format="~g")
    lines = base.mark_rule(strokeWidth=2).encode(
        y=alt.Y("ratio_low:Q", title="observed over predicted", scale=scale, axis=axis),
        y2="ratio_high",
    )
    points = base.mark_point(filled=True, size=80, opacity=1).encode(
        y=alt.Y("ratio:Q", scale=scale, axis=axis),
        shape=alt.Shape("way:N", title=None, scale=_WAY_SHAPES),
    )
    one = (
        alt.Chart(pd.DataFrame({"one": [1.0]}))
        .mark_rule(strokeDash=[3, 3], color="gray")
        .encode(y="one:Q")
    )
    chart: alt.LayerChart = (one + lines + points).properties(height=340)
    return chart


def worst_tenth_chart(shares: pd.DataFrame) -> alt.LayerChart:
    """Draw which share of failures came from the worst tenth of units, by way of predicting."""
    base = alt.Chart(shares).encode(
        y=alt.Y(
            "way:N", sort=list(WAYS), title=None, axis=alt.Axis(labelLimit=160, labelOverlap=False)
        ),
        x=alt.X(
            "worst_tenth:Q",
            title="share of all failures",
            scale=alt.Scale(domain=[0, 1]),
            axis=alt.Axis(format="%", tickCount=5),
        ),
        tooltip=[
            alt.Tooltip("failure:N"),
            alt.Tooltip("way:N", title="predicted by"),
            alt.Tooltip("worst_tenth:Q", format=".0%", title="from the worst tenth"),
            alt.Tooltip("failures:Q"),
        ],
    )
    points = base.mark_point(filled=True, size=90, opacity=1).encode(
        yOffset="failure:N",
        color=alt.Color(
            "failure:N",
            title=None,
            scale=alt.Scale(domain=list(FAILURE_COLOURS), range=list(FAILURE_COLOURS.values())),
            legend=alt.Legend(orient="top", columns=1),
        ),
        shape=alt.Shape(
            "failure:N",
            title=None,
            scale=alt.Scale(domain=list(FAILURE_SHAPES), range=list(FAILURE_SHAPES.values())),
        ),
    )
    tenth = (
        alt.Chart(pd.DataFrame({"tenth": [0.1]}))
        .mark_rule(strokeDash=[3, 3], color="gray")
        .encode(x="tenth:Q")
    )
    chart: alt.LayerChart = (tenth + points).properties(height=40 * len(WAYS) + ROOM)
    return chart


def said_chart(said: pd.DataFrame) -> alt.LayerChart:
    """Draw what multiplies a hazard: the handbook's word, grey, and this fleet's failures'."""
    axis = alt.Axis(title="times the hazard", values=[0.5, 1, 2, 5, 10], format="~g")
    scale = alt.Scale(type="log", nice=False)
    parts = []
    for way, colour, shape, shift in (
        ("handbook", HANDBOOK_COLOUR, "diamond", -5),
        ("fleet", FLEET_COLOUR, "circle", 5),
    ):
        base = alt.Chart(said).encode(
            y=alt.Y(
                "shown:N",
                sort=list(said["shown"]),
                title=None,
                axis=alt.Axis(labelLimit=180, labelOverlap=False),
            ),
            tooltip=[
                alt.Tooltip("label:N", title="what"),
                alt.Tooltip("state:N"),
                alt.Tooltip("handbook:Q", format=".2f", title="the handbook says"),
                alt.Tooltip("fleet:Q", format=".2f", title="with this fleet's failures"),
                alt.Tooltip("fleet_low:Q", format=".2f", title="from"),
                alt.Tooltip("fleet_high:Q", format=".2f", title="to"),
                alt.Tooltip("failures:Q", title="failures it rests on", format=".0f"),
                alt.Tooltip("learned:N", title="learned"),
            ],
        )
        low = alt.X(f"{way}_low:Q", scale=scale, axis=axis)
        parts.extend(
            [
                base.mark_rule(color=colour, strokeWidth=2, yOffset=shift).encode(
                    x=low, x2=f"{way}_high"
                ),
                base.mark_point(
                    filled=True, size=70, opacity=1, color=colour, shape=shape, yOffset=shift
                ).encode(x=alt.X(f"{way}:Q", scale=scale, axis=axis)),
            ]
        )
    one = (
        alt.Chart(pd.DataFrame({"one": [1.0]}))
        .mark_rule(strokeDash=[3, 3], color="gray")
        .encode(x="one:Q")
    )
    layers: alt.LayerChart = alt.LayerChart(layer=[one, *parts])
    chart: alt.LayerChart = layers.properties(height=30 * len(said) + 70)
    return chart
