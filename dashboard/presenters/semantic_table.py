"""Tables that a screen reader, a printer and a finger can use, as HTML."""

from collections.abc import Hashable, Mapping
from html import escape
from typing import Any

from dashboard.presenters.finding_units import unit_link
from dashboard.presenters.words import VERDICT_WORDS
from scoring.contract.amounts_in_words import thousands

FIRST_IN_A_HAND = 5
"""So many rows a list begins with on a narrow screen; the style sheet counts to it, too."""


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


def first_in_a_hand(table_html: str, rows: int) -> str:
    """Let a narrow screen show the first rows of a table, and all of them at a tap.

    Examples
    --------
    >>> first_in_a_hand("<table>", 5), first_in_a_hand("<table>", 40)[19:]
    ('<table>', '<table><label class="all"><input type="checkbox"> all 40 rows</label></div>')
    """
    if rows <= FIRST_IN_A_HAND:
        return table_html
    all_of_them = f'<input type="checkbox"> all {thousands(rows)} rows'
    return f'<div class="first">{table_html}<label class="all">{all_of_them}</label></div>'


def cell(inner: str, kind: str = "") -> str:
    """Return a cell; its words are HTML already.

    Examples
    --------
    >>> cell("3"), cell("3", "number")
    ('<td role="cell">3</td>', '<td role="cell" class="number">3</td>')
    """
    named = f' class="{kind}"' if kind else ""
    return f'<td role="cell"{named}>{inner}</td>'


def unit_cell(unit_id: str, below: str) -> str:
    """Return the cell that names the unit of a row, as a link, and what stands below it, in HTML.

    Examples
    --------
    >>> unit_cell("A", "quay")[33:]
    '<a href="/unit?unit=A">A</a><span class="where">quay</span></th>'
    """
    link = f'<a href="{escape(unit_link(unit_id))}">{escape(unit_id)}</a>'
    return f'<th role="rowheader" scope="row">{link}<span class="where">{below}</span></th>'


def verdict_marked(name: object) -> str:
    """Return a verdict with its shape, in its colour.

    Examples
    --------
    >>> verdict_marked("hold")
    '<span class="v-hold">■ hold</span>'
    """
    said = escape(VERDICT_WORDS[str(name)])
    return f'<span class="v-{escape(str(name))}">{said}</span>'


def site_and_line(row: Mapping[Hashable, Any]) -> str:
    """Say where a unit is, as far as it is written down.

    Examples
    --------
    >>> site_and_line({"site": "Quay", "line": "one"}), site_and_line({"site": "Pit", "line": None})
    ('Quay · one', 'Pit')
    """
    return " · ".join(str(row[name]) for name in ("site", "line") if isinstance(row[name], str))
