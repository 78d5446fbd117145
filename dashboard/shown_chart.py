"""A chart as it is shown: described once for each look and each way of reading."""

from typing import Any

import altair as alt
import streamlit

from dashboard.told_shapes import told_description
from scoring.language.reading import AS_WRITTEN, Reading, current_reading


class ShownChart:
    """A chart that is finished when it is first shown, and shown as it is from then on.

    Streamlit asks a chart for its description and for nothing else. Altair takes long to work that
    out, half of it to hold against its schema once more what was held against it when it was made.

    Parameters
    ----------
    chart : Chart
        One of Altair's many kinds.
    """

    def __init__(self, chart: Any) -> None:  # noqa: ANN401 - one of Altair's many kinds
        self._chart = chart
        self._finished: dict[tuple[str | None, Reading], dict[str, Any]] = {}

    def to_dict(self) -> dict[str, Any]:
        """Describe the chart to who looks at it now."""
        looked_at = streamlit.context.theme.type, current_reading()
        if looked_at not in self._finished:
            self._finished[looked_at] = _described(self._chart)
        return dict(self._finished[looked_at])  # who shows it takes its data out


def _described(chart: Any) -> dict[str, Any]:  # noqa: ANN401 - as above
    if current_reading() == AS_WRITTEN:
        description = chart.to_dict(validate=False)
        # Streamlit has tables laid aside as it sends them, and adds them to what it was told.
        aside = alt.data_transformers.options.get("datasets", {})
        return {**description, "datasets": {**description.get("datasets", {}), **aside}}
    with alt.data_transformers.enable("default"):  # words in tables are told, too
        return told_description(chart.to_dict(validate=False))
