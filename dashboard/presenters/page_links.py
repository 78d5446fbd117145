"""Addresses of pages with what is chosen there."""

from collections.abc import Mapping, Sequence
from urllib.parse import urlencode


def page_link(page: str, chosen: Mapping[str, Sequence[str]]) -> str:
    """Return the address of a page with what is chosen; what is empty is left out.

    Examples
    --------
    >>> page_link("fix", {"verdict": ["hold", "watch"], "site": []}), page_link("plan", {})
    ('/fix?verdict=hold&verdict=watch', '/plan')
    """
    query = urlencode({name: list(texts) for name, texts in chosen.items() if texts}, doseq=True)
    return f"/{page}?{query}" if query else f"/{page}"
