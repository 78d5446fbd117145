"""The few plain HTML pages around the form; names are always escaped."""

from functools import cache
from importlib import resources

from jinja2 import DictLoader, Environment, StrictUndefined

PAGES = ("frame.html", "told.html", "which_unit.html", "begin.html")


@cache
def _environment() -> Environment:
    folder = resources.files(__package__)
    pages = {name: (folder / name).read_text(encoding="utf-8") for name in PAGES}
    return Environment(loader=DictLoader(pages), autoescape=True, undefined=StrictUndefined)


def render(page: str, **words: object) -> str:
    """Return a page with these words in it.

    Examples
    --------
    >>> "&lt;b&gt;" in render("told.html", words="<b>")
    True
    """
    return _environment().get_template(page).render(**words)
