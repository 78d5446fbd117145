"""Tables that a screen reader, a printer and a finger can use, as HTML."""

from collections.abc import Hashable, Mapping
from typing import Any


def heading(words: str, kind: str = "", *, is_sorted: bool = False) -> str:
    """Return the heading of a column; its words are HTML already.

    Examples
    --------
    >>> heading("loss", "number")
    '<th role="columnheader" scope="col" class="number">loss</th>'
    """
    named = f' class="{kind}"' if kind else ""
    order = ' aria-sort="descending"' if is_sorted else ""
    return f'<th role="columnheader" scope="col"{named}{order}>{words}</th>'


def table(kind: str, headings: str, rows: str) -> str:
    """Return a table of rows; what they are shown as on a narrow screen is told by its kind.

    Examples
    --------
    >>> table("units", heading("unit"), '<tr role="row"></tr>')[:35]
    '<table class="units" role="table"><'
    """
    return (
        f'<table class="{kind}" role="table"><thead role="rowgroup"><tr role="row">{headings}</tr>'
        f'</thead><tbody role="rowgroup">{rows}</tbody></table>'
    )


def site_and_line(row: Mapping[Hashable, Any]) -> str:
    """Say where a unit is, as far as it is written down.

    Examples
    --------
    >>> site_and_line({"site": "Quay", "line": "one"}), site_and_line({"site": "Pit", "line": None})
    ('Quay · one', 'Pit')
    """
    return " · ".join(str(row[name]) for name in ("site", "line") if isinstance(row[name], str))
