"""The few plain HTML pages around the form; names are always escaped."""

import re
from functools import cache
from importlib import resources

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup

from dashboard import launch_settings
from dashboard.guard.answer_headers import hash_of
from dashboard.presenters.who_is_here import who_is_here
from scoring.access.acts import Act
from scoring.access.who_asks import ANYBODY, NotSignedInError, who_asks
from scoring.drawing.look_tokens import colour_variables
from scoring.language.markup import told_markup
from scoring.language.reading import current_reading

PAGES = (
    "frame.html",
    "message.html",
    "today.html",
    "which_unit.html",
    "begin.html",
    "who.html",
    "record.html",
    "release.html",
    "kept.html",
    "reading.html",
)
SCRIPTS = {
    "keep_typed": "keep_typed.js",
    "typed_is_kept": "typed_is_kept.js",
    "come_in_later": "come_in_later.js",
}
"""What pages run, by the name under which a page asks for it."""


@cache
def _environment() -> Environment:
    folder = resources.files(__package__)
    pages = {name: (folder / name).read_text(encoding="utf-8") for name in PAGES}
    environment = Environment(loader=DictLoader(pages), autoescape=True, undefined=StrictUndefined)
    environment.globals["colours"] = Markup(colour_variables())  # noqa: S704 - ours
    for name, file in SCRIPTS.items():
        environment.globals[name] = Markup((folder / file).read_text(encoding="utf-8"))  # noqa: S704 - ours
    return environment


def render(page: str, **words: object) -> str:
    """Return a page with these words in it, told as the person reads to whom it goes.

    Examples
    --------
    >>> "&lt;b&gt;" in render("message.html", words="<b>")
    True
    """
    language = current_reading().language
    try:
        asker = who_asks()
    except NotSignedInError:
        asker = ANYBODY
    here = {
        "signed_in": asker.name,
        "may": {act.name.lower(): asker.may(act) for act in Act},
        "who": who_is_here(asker, over_a_network=launch_settings.answers_to_a_network()),
    }
    return told_markup(_environment().get_template(page).render(**words, **here, language=language))


@cache
def page_policy() -> str:
    """Return what these pages may run and show: their own scripts and style, word for word.

    Examples
    --------
    >>> "unsafe" in page_policy()
    False
    """
    folder = resources.files(__package__)
    ours = [hash_of((folder / file).read_text(encoding="utf-8")) for file in SCRIPTS.values()]
    style = re.findall("<style>(.*?)</style>", render("message.html", words=""), re.DOTALL)
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src {' '.join(ours)}",
            f"style-src {' '.join(map(hash_of, style))}",
            "connect-src 'self'",
            "img-src 'self' data:",
            "base-uri 'none'",
            "form-action 'self'",
            "frame-ancestors 'none'",
        )
    )
