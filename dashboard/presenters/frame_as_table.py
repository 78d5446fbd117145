"""A table of a few columns as a person reads it: numbers, days and links, as HTML."""

from collections.abc import Collection, Mapping, Sequence
from html import escape
from typing import Any

import pandas as pd

from dashboard.presenters.finding_units import unit_link
from dashboard.presenters.semantic_table import cell, heading, table
from dashboard.told_shapes import NAMES
from scoring.contract.amounts_in_words import MINUS, NARROW_SPACE, percent, thousands

UNIT, BLANK = "unit", "blank"
DECIMALS = 4
"""More digits behind the point say nothing on a page; ours."""


def frame_as_table(
    frame: pd.DataFrame,
    shares: Collection[str] = (),
    links: Mapping[str, str] | None = None,
) -> str:
    """Return a table as HTML; on a narrow screen each row is a card that says its headings.

    Parameters
    ----------
    frame : DataFrame
        Its first column names the row. A column ``unit`` leads to the pages of its units, where
        units are named in it by their ids.
    shares : collection of str
        Columns that hold shares of one.
    links : mapping of str to str, optional
        Columns that hold addresses, or nothing, and the word under which each is shown.

    Examples
    --------
    >>> shown = frame_as_table(pd.DataFrame({"check": ["guard"], "times": [1200]}))
    >>> f'<span class="of">times: </span>1{NARROW_SPACE}200</td>' in shown
    True
    """
    links = links or {}
    numeric = {str(name) for name in frame.select_dtypes("number").columns}
    kinds = {str(name): "number" if name in numeric else "" for name in frame.columns}
    heads = "".join(heading(escape(name), kind) for name, kind in kinds.items())
    columns = {
        str(name): [
            _linked(value, links[name])
            if name in links
            else _inner(str(name), value, is_share=name in shares)
            for value in frame[name]
        ]
        for name in frame.columns
    }
    rows = (
        _row(list(zip(kinds, kinds.values(), inners, strict=True)), links)
        for inners in zip(*columns.values(), strict=True)
    )
    return table("framed", heads, "".join(rows))


def _row(cells: Sequence[tuple[str, str, str]], links: Collection[str]) -> str:
    (_, kind, first), *rest = cells
    said = "".join(
        cell(inner if name in links else f'<span class="of">{escape(name)}: </span>{inner}', kind)
        if inner
        else cell("", BLANK)
        for name, kind, inner in rest
    )
    return f'<tr role="row"><th role="rowheader" scope="row" class="{kind}">{first}</th>{said}</tr>'


def _inner(name: str, value: Any, *, is_share: bool) -> str:  # noqa: ANN401 - a cell of any kind
    if pd.isna(value):
        return ""
    if isinstance(value, pd.Timestamp):
        said = f"{value:%Y-%m-%d}" if value == value.normalize() else f"{value:%Y-%m-%d %H:%M}"
        return f"<time>{said}</time>"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)) or hasattr(value, "dtype"):
        return escape(percent(float(value)) if is_share else number_said(float(value)))
    said = escape(str(value))
    if name == UNIT and said:
        return f'<a href="{escape(unit_link(str(value)))}" translate="no">{said}</a>'
    return f'<span translate="no">{said}</span>' if name in NAMES else said


def _linked(address: object, word: str) -> str:
    if address is None:
        return ""
    return f'<a href="{escape(str(address))}" target="_self">{escape(word)}</a>'


def number_said(value: float) -> str:
    """Write a number as it is, its thousands marked.

    Examples
    --------
    >>> number_said(1733.0).replace(NARROW_SPACE, "_"), number_said(0.25), number_said(-7.0)
    ('1_733', '0.25', '\N{MINUS SIGN}7')
    """
    if value == round(value):
        said = thousands(abs(value))
    else:
        said = f"{abs(value):,.{DECIMALS}f}".rstrip("0").rstrip(".").replace(",", NARROW_SPACE)
    return f"{MINUS}{said}" if value < 0 and said != "0" else said
