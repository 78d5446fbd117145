"""How the person reads who holds the device: language, numbers, measures, kept in cookies."""

from http import HTTPStatus
from urllib.parse import urlsplit

from starlette.responses import HTMLResponse, RedirectResponse, Response

from dashboard.walkdown.answering import FormRequest
from dashboard.walkdown.person import KEPT_S
from dashboard.walkdown.templates import render
from scoring.language.amounts import numbers_told
from scoring.language.reading import LANGUAGES, NUMBER_FORMATS, current_reading
from scoring.walkdown_form.visit_questions import MEASURES

SHOWN_NUMBER = "1,234.5"
"""By which a person recognises a way of writing numbers."""


def ask_reading(request: FormRequest) -> Response:
    """Ask in which language, numbers and measures the pages are to be read."""
    reading = current_reading()
    asked = (
        ("language", "Language", reading.language, tuple(LANGUAGES.items())),
        (
            "numbers",
            "Numbers",
            reading.numbers,
            tuple((name, numbers_told(SHOWN_NUMBER, name)) for name in NUMBER_FORMATS),
        ),
        ("measures", "Measures", reading.measures, MEASURES),
    )
    return HTMLResponse(render("reading.html", asked=asked, to=_ours(request.query.get("to", ""))))


def take_reading(request: FormRequest) -> Response:
    """Keep how the person reads, and go back to where they came from."""
    sent = request.fields()
    response = RedirectResponse(_ours(sent.get("to", "")), HTTPStatus.SEE_OTHER)
    offered = (
        ("language", LANGUAGES),
        ("numbers", NUMBER_FORMATS),
        ("measures", dict(MEASURES)),
    )
    for name, known in offered:
        if sent.get(name) in known:
            response.set_cookie(name, sent[name], max_age=KEPT_S, samesite="lax")
    return response


def _ours(to: str) -> str:
    """Return a place on our own pages; the first of them where another was given.

    Examples
    --------
    >>> _ours("/fix?sites=Quay"), _ours("//elsewhere.example/"), _ours("")
    ('/fix?sites=Quay', '/', '/')
    """
    parts = urlsplit(to)
    inside = to.startswith("/") and not to.startswith(("//", "/\\")) and not parts.netloc
    return to if inside else "/"
