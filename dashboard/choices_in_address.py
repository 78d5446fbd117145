"""What a person chose on a page: kept while the pages are open, and in the address.

A choice outlives going to another page and back, and a link that is copied shows the same. Whoever
arrives at a page by another address than the page has itself, by a link, Back, Forward or a reload,
sees what that address says, and what is usual of all it does not name. ``on_page`` decides this
once for a page, ``start`` gives the widgets their values, and ``write_down`` ends the page.
"""

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import streamlit as st

from dashboard import day_in_address

ON_PAGE = "page that is shown"

Reader = Callable[[list[str]], Any]
"""From the texts of one name in the address to a value; None for what may not be chosen."""


def on_page(name: str) -> None:
    """Say which page is about to be shown, and find out who asks for it: an address or a choice.

    Where the address is another one than the page had last, and nothing was chosen on the page
    meanwhile, somebody arrived by it: whatever was chosen before is forgotten. A choice that was
    made counts more than the address, which a quick hand leaves behind by one click.
    """
    st.session_state[ON_PAGE] = name
    before, said = st.session_state.get(_last(name), {}), _said()
    was_chosen = bool(before) and before["chosen"] != _chosen(name)
    unwritten = was_chosen or before.get("unwritten", False)
    if not was_chosen and before.get("said") != said:
        unwritten = False
        for key in _usual(name):
            st.session_state.pop(key, None)
    st.session_state[_last(name)] = {
        "said": said,
        "chosen": _chosen(name),
        "unwritten": unwritten,
    }


def link_to(name: str) -> dict[str, list[str]]:
    """Return what a link to a page must say so that it shows what was chosen there."""
    return in_a_link(_usual(name))


def start(usual: Mapping[str, Any], readers: Mapping[str, Reader]) -> None:
    """Give widgets what was chosen before, else what the address says, else what is usual.

    Parameters
    ----------
    usual : dict of str to object
        By the key of each widget; the widget itself must be given no value.
    readers : dict of str to Reader
        By the same keys.
    """
    page = st.session_state.get(ON_PAGE, "")
    last = st.session_state.get(_last(page))
    if last and last["chosen"] != _chosen(page):  # in a part of the page that runs alone
        last["unwritten"] = True
    st.session_state[_asked_on(page)] = {**_usual(page), **usual}
    said = _said()
    for key, value in usual.items():
        if key not in st.session_state:
            read = readers[key](said[key]) if key in said else None
            st.session_state[key] = value if read is None else read
        elif not _may_stay(st.session_state[key], value, readers[key]):
            read = readers[key](_texts(st.session_state[key]))
            st.session_state[key] = value if read is None else read
    if last:
        last["chosen"] = _chosen(page)


def write_down() -> None:
    """Write into the address all that is not as usual on the page, once something was chosen.

    At the end of a page, or of a part of it that runs alone, and in one step, so that one step back
    undoes one choice. An address that is only followed stays as it is, or the way back would lead
    here again.
    """
    page = st.session_state.get(ON_PAGE, "")
    last = st.session_state[_last(page)]
    last["chosen"] = _chosen(page)
    if not last["unwritten"]:
        return
    now = {name: st.query_params.get_all(name) for name in st.query_params}
    usual = _usual(page)
    others = {name: texts for name, texts in now.items() if name not in usual}
    wanted = {**others, **in_a_link(usual)}
    if wanted != now:
        st.query_params.from_dict(wanted)
    last["said"], last["unwritten"] = _said(), False


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


def _said() -> dict[str, list[str]]:
    """Return what the address says, but for the day, which is no choice of one page."""
    others = {day_in_address.AS_OF, day_in_address.AHEAD}
    return {name: st.query_params.get_all(name) for name in st.query_params if name not in others}


def _usual(page: str) -> dict[str, Any]:
    """Return what a page asks for, as it is where nobody has chosen."""
    asked: dict[str, Any] = st.session_state.get(_asked_on(page), {})
    return asked


def _chosen(page: str) -> dict[str, list[str] | None]:
    """Return what stands on a page; None where a widget has no value yet."""
    there = {key: st.session_state.get(key) for key in _usual(page)}
    return {key: None if value is None else _texts(value) for key, value in there.items()}


def _asked_on(page: str) -> str:
    return f"asked on the page: {page}"


def _last(page: str) -> str:
    return f"as the page was left: {page}"


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
    return f"{value:.12g}" if isinstance(value, float) else str(value)
