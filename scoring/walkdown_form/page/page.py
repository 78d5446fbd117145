"""The form as one HTML text: nothing is loaded from outside, and a name is never markup."""

from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib import resources
from typing import Any

from scoring.drawing.look_tokens import colour_variables
from scoring.language.reading import current_reading
from scoring.language.tell import told
from scoring.walkdown_form.page.page_data import page_data
from scoring.walkdown_form.page.words_for_page import words_for_page

SCRIPTS = (
    "told",
    "words_of_time",
    "elements",
    "database",
    "shelf",
    "box",
    "places",
    "number_reading",
    "number_limits",
    "walk",
    "photo_box",
    "photo_resizing",
    "browser_keeper",
    "route_copy",
    "server_calls",
    "outbox",
    "sending",
    "server_walkdown",
    "server_keeper",
    "state_line",
    "route_screen",
    "start_screen",
    "undo_answer",
    "choice_answer",
    "detail_answer",
    "number_answer",
    "not_seen_answer",
    "photos_of_check",
    "tightening_part",
    "conflict_screen",
    "check_screen",
    "list_screen",
    "end_screen",
    "sign_off",
    "main",
)
"""What the page runs, each in the file of its name; the last one starts it."""

ITS_OWN_SERVER = "'self'"
NOBODY = "'none'"
"""Of whom a page may ask something, as policies call them."""

_NEEDS_SCRIPTS = (
    "This form needs a browser that runs its own scripts. Open the file in a browser, "
    "not in the preview of a mail or of a file list."
)

_HTML = """<!DOCTYPE html>
<html lang="{language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport"
 content="width=device-width, initial-scale=1, interactive-widget=resizes-content">
<meta name="referrer" content="no-referrer">
<link rel="icon" href="data:,">
<title>{title}</title>
<style>{style}</style>
</head>
<body>
<noscript>{needs_scripts}</noscript>
<script type="application/json" id="data">{data}</script>
<script>{script}</script>
</body>
</html>
"""


def online_page(form: dict[str, Any], draft: dict[str, Any], api: str) -> str:
    """Write the page of one walkdown whose answers go to a server at once.

    Parameters
    ----------
    form : dict
        The form of the one unit, as ``form_document`` makes it.
    draft : dict
        The walkdown as the server has it: ``draft_id``, ``unit_id``, ``status``, ``answers``,
        ``photos``, ``others`` and ``corrects``; and ``person``, who holds the device.
    api : str
        Path under which the server takes answers, such as ``/walkdown/api``.

    Returns
    -------
    str
        A whole HTML document that asks nothing but this path of its own server.

    Examples
    --------
    >>> form = {"units": [], "pictures": {}}
    >>> text = online_page(form, {"draft_id": "<!--"}, "/walkdown/api")
    >>> "connect-src 'self'" in text, "<!--" in text
    (True, False)
    """
    data = page_data(form, draft=draft, mode="online", route=None, api=api, words=words_for_page())
    return _page(data, outside=ITS_OWN_SERVER)


def page_without_network(form: dict[str, Any], route: str) -> str:
    """Write the page of a route whose answers stay in the browser.

    Parameters
    ----------
    form : dict
        The form of the route's units, as ``form_document`` makes it.
    route : str
        Name of the route, by which the browser keeps its answers.

    Returns
    -------
    str
        A whole HTML document that asks nothing of any server.

    Examples
    --------
    >>> text = page_without_network({"units": [], "pictures": {}}, "</script><b>")
    >>> "connect-src 'none'" in text, "<b>" in text
    (True, False)
    """
    data = page_data(
        form, draft=None, mode="without_network", route=route, api=None, words=words_for_page()
    )
    return _page(data, outside=NOBODY)


def policy_of_online_page() -> str:
    """Return what the page may load and run, as its server says it beside the page itself.

    Examples
    --------
    >>> "frame-ancestors 'none'" in policy_of_online_page()
    True
    """
    return f"{_policy(outside=ITS_OWN_SERVER)}; frame-ancestors 'none'"


def _page(data: str, outside: str) -> str:
    return _HTML.format(
        policy=_policy(outside),
        style=_style(),
        script=_script(),
        data=data,
        needs_scripts=told(_NEEDS_SCRIPTS),
        title=told("Walkdown"),
        language=current_reading().language,
    )


def _policy(outside: str) -> str:
    images = f"data: blob: {outside}" if outside == ITS_OWN_SERVER else "data: blob:"
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src {_hash(_script())}",
            f"style-src {_hash(_style())}",
            f"img-src {images}",
            f"connect-src {outside}",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )


def _style() -> str:
    return colour_variables() + _text("form.css")


def _hash(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


@cache
def _script() -> str:
    parts = "\n".join(_text(f"js/{name}.js") for name in SCRIPTS)
    return f'"use strict";\n(() => {{\n{parts}\n}})();\n'


@cache
def _text(name: str) -> str:
    return (resources.files(__package__) / name).read_text(encoding="utf-8")
