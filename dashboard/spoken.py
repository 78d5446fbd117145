"""Streamlit, whose words are told as the person reads who looks at the page.

A page writes ``from dashboard import spoken as st`` and goes on as if that were Streamlit itself.
Texts, labels, choices, tables and charts are told at this border; everything before it speaks
English.
"""

import functools
import inspect
import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import altair as alt
import pandas as pd
import streamlit

from dashboard.long_work import PLACE
from dashboard.made_files import note_file
from dashboard.said_in_words import said_in_words
from dashboard.shown_chart import ShownChart
from dashboard.told_shapes import told_cells, told_columns
from scoring.access.who_asks import asked_by, who_asks
from scoring.language.markup import told_markdown, told_markup
from scoring.language.reading import (
    AS_WRITTEN,
    current_reading,
    read_as,
    reading_as,
    reading_from,
)
from scoring.language.tell import is_as_read, told

if TYPE_CHECKING:
    # what a page sees is Streamlit, with its types: each name that a page takes
    from streamlit import (  # noqa: F401
        Page,
        altair_chart,
        button,
        caption,
        column_config,
        columns,
        container,
        context,
        data_editor,
        dataframe,
        date_input,
        delta_generator,
        download_button,
        empty,
        error,
        expander,
        file_uploader,
        form,
        form_submit_button,
        header,
        html,
        image,
        info,
        markdown,
        metric,
        multiselect,
        navigation,
        number_input,
        page_link,
        popover,
        query_params,
        radio,
        rerun,
        segmented_control,
        selectbox,
        session_state,
        set_page_config,
        stop,
        success,
        switch_page,
        tabs,
        text,
        text_input,
        title,
        toggle,
        warning,
        write,
    )

MARKDOWN = frozenset({"body", "label", "caption", "help", "text", "placeholder", "title"})
"""Arguments in which Streamlit reads Markdown."""

PLAIN = frozenset({("text", "body"), ("metric", "value"), ("metric", "delta"), ("image", "alt")})
"""Arguments that are words, and shown as they are."""

SHOWING = frozenset(
    {
        "title", "header", "subheader", "markdown", "caption", "text", "info", "warning", "error",
        "success", "expander", "spinner", "metric", "tabs", "radio", "selectbox", "multiselect",
        "segmented_control", "checkbox", "toggle", "button", "link_button", "page_link",
        "download_button", "form_submit_button", "number_input", "text_input", "text_area",
        "date_input", "file_uploader", "dataframe", "data_editor", "html", "altair_chart", "image",
        "Page", "popover", "status", "toast", "write",
    }
)  # fmt: skip
"""Functions of Streamlit that show words."""


_BEFORE_PERCENT = re.compile(r"(?<=\d) (?=%)")
"""Where no line may break."""


def fragment(
    shows: Callable[..., Any] | None = None, *, run_every: float | None = None
) -> Callable[..., Any]:
    """Let a part of a page run alone, as the person reads who looks at it.

    What runs alone runs in a thread of its own, which knows nothing of who reads. It may write to a
    place outside, as where it is said what is worked out, only if it wrote there with the page.

    Parameters
    ----------
    shows : callable
        Shows the part; none where this is written above it with ``run_every``.
    run_every : float, optional
        It is shown again after so long. [s]
    """
    if shows is None:
        return functools.partial(fragment, run_every=run_every)

    @functools.wraps(shows)
    def read(*given: Any, **named: Any) -> Any:  # noqa: ANN401 - as the part takes them
        context = streamlit.context
        read_as(reading_from(context.cookies, context.locale))
        if PLACE in streamlit.session_state:
            streamlit.session_state[PLACE].done()
        with said_in_words():
            return shows(*given, **named)

    alone: Callable[..., Any] = streamlit.fragment(read, run_every=run_every)
    return alone


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever Streamlit has under that name
    """Return what Streamlit has under a name, telling its words where it shows any."""
    found = getattr(streamlit, name)
    return _telling(name) if name in SHOWING else found


@functools.cache
def _telling(name: str) -> Callable[..., Any]:
    shows = getattr(streamlit, name)
    signature = inspect.signature(shows)

    @functools.wraps(shows)
    def telling(*given: Any, **named: Any) -> Any:  # noqa: ANN401 - as Streamlit takes them
        if name == "download_button":
            named = {n: _asked_alike(one) if callable(one) else one for n, one in named.items()}
            given = tuple(_asked_alike(one) if callable(one) else one for one in given)
        words = (one for one in (*given, *named.values()) if isinstance(one, str))
        is_said = current_reading() == AS_WRITTEN and all(is_as_read(one) for one in words)
        if is_said and name not in ("altair_chart", "html"):
            return getattr(streamlit, name)(*given, **named)
        bound = signature.bind(*given, **named)
        for argument, value in list(bound.arguments.items()):
            if argument == "kwargs":
                continue
            bound.arguments[argument] = _told(name, argument, value)
        if name == "tabs" and bound.arguments.get("default"):
            bound.arguments["default"] = told_markdown(bound.arguments["default"])
        if "format_func" in signature.parameters:
            says = bound.arguments.get("format_func", str)
            bound.arguments["format_func"] = lambda option: told(str(says(option)))
        if name == "download_button" and callable(bound.arguments["data"]):
            bound.arguments["data"] = _read_alike(bound.arguments["data"])
        if name in ("dataframe", "data_editor"):
            bound.arguments["column_config"] = told_columns(
                bound.arguments["data"], bound.arguments.get("column_config")
            )
        return getattr(streamlit, name)(*bound.args, **bound.kwargs)

    return telling


def _asked_alike(made: Callable[[], Any]) -> Callable[[], Any]:
    """Have a file that is made later, in another thread, hold what is for who is offered it."""
    asker = who_asks()

    def made_alike() -> Any:  # noqa: ANN401 - whatever is offered
        with asked_by(asker):
            file = made()
        if asker.is_signed_in:
            note_file(asker.subject, file)
        return file

    return made_alike


def _read_alike(made: Callable[[], Any]) -> Callable[[], Any]:
    """Have a file that is made later, in another thread, speak as the page that offers it."""
    reading = current_reading()

    def made_alike() -> Any:  # noqa: ANN401 - whatever is offered
        with reading_as(reading):
            return made()

    return made_alike


def _told(name: str, argument: str, value: Any) -> Any:  # noqa: ANN401 - as Streamlit takes them
    """Tell one argument of a function of Streamlit."""
    if isinstance(value, str):
        return _text_told(name, argument, value)
    if name == "dataframe" and argument == "data" and isinstance(value, pd.DataFrame):
        return told_cells(value)
    if isinstance(value, alt.TopLevelMixin):
        return ShownChart(value)
    if name == "tabs" and argument == "tabs":
        return [told_markdown(one) for one in value]
    return value


def _text_told(name: str, argument: str, text: str) -> str:
    if (name, argument) == ("html", "body"):
        return _BEFORE_PERCENT.sub("\u00a0", told_markup(text))
    if (name, argument) in PLAIN:
        return told(text)
    return told_markdown(text) if argument in MARKDOWN else text
