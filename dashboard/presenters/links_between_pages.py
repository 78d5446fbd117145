"""Links between pages, which carry on what is shown: day and horizon."""

import re
from collections.abc import Mapping
from html import escape
from urllib.parse import urlencode

from dashboard.pages_there_are import PAGES

_LINK = re.compile(rf'href="(/(?:{"|".join(page.path for page in PAGES)})?)(\?[^"]*)?"')


def carrying(html: str, carried: Mapping[str, str]) -> str:
    """Let every link to a page, in HTML, carry something on, unless it says so itself.

    Parameters
    ----------
    html : str
        With links as ``href="/unit?unit=A"``.
    carried : mapping of str to str
        What the address says that is to go along.

    Examples
    --------
    >>> carrying('<a href="/fix?site=pit">', {"as_of": "2026-03-31"})
    '<a href="/fix?site=pit&amp;as_of=2026-03-31">'
    >>> carrying('<a href="/fix?as_of=2026-01-31">', {"as_of": "2026-03-31"})
    '<a href="/fix?as_of=2026-01-31">'
    >>> carrying('<a href="/today">, <a href="/trend">', {"ahead": "90"})
    '<a href="/today">, <a href="/trend?ahead=90">'
    """

    def carry(found: re.Match[str]) -> str:
        path, said = found[1], found[2] or ""
        more = {name: text for name, text in carried.items() if f"{name}=" not in said}
        if not more:
            return found[0]
        return f'href="{path}{f"{said}&amp;" if said else "?"}{escape(urlencode(more))}"'

    return _LINK.sub(carry, html)
