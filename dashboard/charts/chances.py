"""Chances with their intervals, unit by unit."""

import altair as alt
import pandas as pd

from scoring.contract.events import MODE_WORDS

FAILURE_SHAPES = dict(zip(MODE_WORDS.values(), ("circle", "diamond", "triangle"), strict=True))
FAILURE_COLOURS = dict(zip(MODE_WORDS.values(), ("#0072B2", "#D55E00", "#007A5E"), strict=True))

HEIGHT_OF_A_CHANCE = 15
"""Height of one chance in a chart. [pixel]"""

ROOM = 110
"""Height that legend and axis take beside the rows of a chart. [pixel]"""

failure_colour = alt.Color(
    "failure:N",
    title=None,
    scale=alt.Scale(domain=list(FAILURE_COLOURS), range=list(FAILURE_COLOURS.values())),
    legend=alt.Legend(orient="top", columns=2, symbolLimit=4),
)
failure_shape = alt.Shape(
    "failure:N",
    title=None,
    scale=alt.Scale(domain=list(FAILURE_SHAPES), range=list(FAILURE_SHAPES.values())),
    legend=alt.Legend(orient="top", columns=2),
)


def long_chances(rows: pd.DataFrame) -> pd.DataFrame:
    """Return one row for each unit and failure."""
    parts = [
        pd.DataFrame(
            {
                "unit": rows["unit_id"].astype(object),
                "failure": words,
                "chance": rows[f"p_{mode}"],
                "low": rows[f"p_{mode}_low"],
                "high": rows[f"p_{mode}_high"],
                "why": rows["main_reasons"].astype(object),
            }
        )
        for mode, words in MODE_WORDS.items()
    ]
    return pd.concat(parts, ignore_index=True)


def chances_chart(rows: pd.DataFrame) -> alt.LayerChart:
    """Draw the chances of some units, in their order, each with its 90 % interval."""
    table = long_chances(rows)
    order = list(rows["unit_id"])
    base = alt.Chart(table).encode(
        y=alt.Y(
            "unit:N", sort=order, title=None, axis=alt.Axis(labelLimit=140, labelOverlap=False)
        ),
        yOffset=alt.YOffset("failure:N"),
        color=failure_colour,
        tooltip=[
            "unit:N",
            "failure:N",
            alt.Tooltip("chance:Q", format=".1%"),
            alt.Tooltip("low:Q", format=".1%"),
            alt.Tooltip("high:Q", format=".1%"),
            "why:N",
        ],
    )
    scale = alt.Scale(domain=[0, 1])
    axis = alt.Axis(format="%", tickCount=5, title="chance within a year, with 90 % interval")
    low = alt.X("low:Q", scale=scale, axis=axis)
    lines = base.mark_rule(strokeWidth=2).encode(x=low, x2="high")
    points = base.mark_point(filled=True, size=70, opacity=1).encode(
        x=alt.X("chance:Q", scale=scale, axis=axis), shape=failure_shape
    )
    chart: alt.LayerChart = (lines + points).properties(
        height=HEIGHT_OF_A_CHANCE * len(MODE_WORDS) * len(order) + ROOM
    )
    return chart
