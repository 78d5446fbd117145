"""What all charts of chances share: a colour and a shape for each failure."""

from dashboard.appearance import SERIES
from scoring.contract.events import MODE_WORDS

FAILURE_SHAPES = dict(zip(MODE_WORDS.values(), ("circle", "diamond", "triangle"), strict=True))
FAILURE_COLOURS = dict(zip(MODE_WORDS.values(), SERIES[:3], strict=True))

ROOM = 110
"""Height that legend and axis take beside the rows of a chart. [pixel]"""
