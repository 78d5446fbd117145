"""What a person chose on a page: kept while the pages are open, and in the address.

A choice outlives going to another page and back, and a link that is copied shows the same. Each
page starts its widgets with ``start`` and writes them down with ``write_down``.
"""

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import streamlit as st

ON_PAGE = "page that is shown"

Reader = Callable[[list[str]], Any]
"""From the texts of one name in the address to a value; None for what may not be chosen."""


def on_page(name: str) -> None:
    """Say which page is about to be shown; what it asks for belongs to it."""
    st.session_state[ON_PAGE] = name


def link_to(name: str) -> dict[str, list[str]]:
    """Return what a link to a page must say so that it shows what was chosen there."""
    return in_a_link(st.session_state.get(_asked_on(name), {}))


def start(usual: Mapping[str, Any], readers: Mapping[str, Reader]) -> None:
    """Give widgets the value that a link or the way back says, or what is usual at first.

    An address that says nothing leaves all as it was chosen before.

    Parameters
    ----------
    usual : dict of str to object
        By the key of each widget; the widget itself must be given no value.
    readers : dict of str to Reader
        By the same keys.
    """
    asked_on = _asked_on(st.session_state.get(ON_PAGE, ""))
    st.session_state[asked_on] = {**st.session_state.get(asked_on, {}), **usual}
    said = _said(usual)
    followed = bool(said) and said != st.session_state.get(_seen(usual))
    for key, value in usual.items():
        if followed or key not in st.session_state:
            read = readers[key](said[key]) if key in said else None
            st.session_state[key] = value if read is None else read
        elif not _may_stay(st.session_state[key], value, readers[key]):
            read = readers[key](_texts(st.session_state[key]))
            st.session_state[key] = value if read is None else read
    if followed:
        st.session_state[_seen(usual)] = said


def write_down(usual: Mapping[str, Any]) -> None:
    """Write into the address all that is not as usual, once somebody has chosen something.

    An address that is only followed stays as it is, or the way back would lead here again.
    """
    chosen = {key: st.session_state.get(key, value) for key, value in usual.items()}
    before = st.session_state.get(_chosen(usual))
    st.session_state[_chosen(usual)] = chosen
    if before in (None, chosen):
        return
    for key, value in usual.items():
        if chosen[key] == value or chosen[key] is None:
            st.query_params.pop(key, None)
        elif isinstance(chosen[key], list):
            st.query_params[key] = [str(one) for one in chosen[key]]
        else:
            st.query_params[key] = _text(chosen[key])
    st.session_state[_seen(usual)] = _said(usual)


def in_a_link(*usuals: Mapping[str, Any]) -> dict[str, list[str]]:
    """Return what is chosen and not as usual, by its names in the address, for a link."""
    link: dict[str, list[str]] = {}
    for key, value in (pair for usual in usuals for pair in usual.items()):
        chosen = st.session_state.get(key, value)
        if chosen in (value, None):
            continue
        link[key] = _texts(chosen)
    return link


def _may_stay(chosen: object, usual: object, read: Reader) -> bool:
    """Tell whether a choice is still one: of another day there may be other sites and units."""
    if chosen in (None, usual):
        return True
    now = read(_texts(chosen))
    return now == chosen if isinstance(chosen, list) else now is not None


def _texts(chosen: object) -> list[str]:
    return [_text(one) for one in (chosen if isinstance(chosen, list) else [chosen])]


def _said(usual: Mapping[str, Any]) -> dict[str, list[str]]:
    return {key: st.query_params.get_all(key) for key in usual if key in st.query_params}


def _asked_on(name: str) -> str:
    return f"asked on the page: {name}"


def _seen(usual: Mapping[str, Any]) -> str:
    return f"seen in the address: {', '.join(usual)}"


def _chosen(usual: Mapping[str, Any]) -> str:
    return f"chosen last: {', '.join(usual)}"


def one_of(allowed: Iterable[Any]) -> Reader:
    """Read one of some values.

    Examples
    --------
    >>> one_of([1, 2])(["2"]), one_of(["table", "list"])(["tree"])
    (2, None)
    """
    by_text = {_text(one): one for one in allowed}
    return lambda given: by_text.get(given[-1])


def some_of(allowed: Iterable[str]) -> Reader:
    """Read some of some texts; others are left out.

    Examples
    --------
    >>> some_of(["quay", "pit"])(["pit", "moon"])
    ['pit']
    """
    there = set(allowed)
    return lambda given: [one for one in given if one in there]


def text(given: list[str]) -> str:
    """Read a text as it stands."""
    return given[-1]


def number(kind: type[int] | type[float], least: float) -> Reader:
    """Read a number that is not below the least.

    Examples
    --------
    >>> number(float, 0.5)(["16"]), number(int, 1)(["0"]), number(int, 1)(["many"])
    (16.0, None, None)
    """

    def read(given: list[str]) -> float | None:
        try:
            value = kind(given[-1])
        except ValueError:
            return None
        return value if least <= value < float("inf") else None

    return read


def day_from(least: dt.date) -> Reader:
    """Read a day as 2026-03-31 that is not before the least."""

    def read(given: list[str]) -> dt.date | None:
        try:
            day = dt.date.fromisoformat(given[-1])
        except ValueError:
            return None
        return day if day >= least else None

    return read


def _text(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)
