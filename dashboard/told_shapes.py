"""Tables and charts, told as the person reads who looks at them."""

import re
from collections.abc import Mapping
from typing import Any

import pandas as pd

from scoring.language.tell import told

NAMES = frozenset(
    {"unit", "unit_id", "site", "line", "crew", "by", "notes", "signed by", "serial number"}
)
"""Columns that hold what people named, and wrote."""

_QUOTED = re.compile(r"'([^']*)'")
_EXPRESSIONS = frozenset({"filter", "test", "calculate", "expr", "labelExpr"})
_DATA = "datasets"
_WORDS = frozenset({"title", "subtitle", "text", "description", _DATA, "domain", "sort"})
"""Keys of a chart under which words stand; below its data, everywhere."""


def told_cells(table: pd.DataFrame) -> pd.DataFrame:
    """Tell the words in a table, what people named left as it is.

    Examples
    --------
    >>> from scoring.language.reading import Reading, reading_as
    >>> with reading_as(Reading("de")):
    ...     told_cells(pd.DataFrame({"unit": ["breather"], "what": ["breather"]})).iloc[0].tolist()
    ['breather', 'Entlüfter']
    """
    worded = [
        name
        for name in table.columns
        if name not in NAMES and pd.api.types.infer_dtype(table[name], skipna=True) == "string"
    ]
    return table.assign(
        **{
            name: table[name]
            .astype(object)
            .map({text: told(str(text)) for text in table[name].dropna().unique()})
            for name in worded
        }
    )


def told_columns(table: object, asked: Mapping[str, Any] | None) -> dict[str, Any]:
    """Return how the columns of a table are shown, with their names told.

    Parameters
    ----------
    table : object
        Anything but a DataFrame has no names.
    asked : mapping of str to column configuration, optional
        As the page has it.
    """
    names = [str(name) for name in table.columns] if isinstance(table, pd.DataFrame) else []
    shown = {name: asked[name] if asked and name in asked else {} for name in names}
    return {
        name: one
        if one is None
        else _told_column(name, {"label": one} if isinstance(one, str) else one)
        for name, one in (dict(asked or {}) | shown).items()
    }


def _told_column(name: str, one: Mapping[str, Any]) -> dict[str, Any]:
    helped = {"help": told(one["help"])} if one.get("help") else {}
    return {**one, "label": told(one.get("label") or name), **helped}


def told_description(description: dict[str, Any]) -> dict[str, Any]:
    """Return a chart's description with its titles, labels and the words in its data told."""
    told_parts: dict[str, Any] = _told_part(description)
    return told_parts


def _told_part(part: Any, key: str = "") -> Any:  # noqa: ANN401 - a part of a chart's description
    if isinstance(part, dict):
        return {
            name: value if name == "config" else _told_part(value, _DATA if key == _DATA else name)
            for name, value in part.items()
        }
    if isinstance(part, list):
        return [_told_part(one, key) for one in part]
    if not isinstance(part, str):
        return part
    if key in _EXPRESSIONS:
        return _QUOTED.sub(lambda quoted: f"'{told(quoted[1])}'", part)
    return told(part) if key in _WORDS else part
