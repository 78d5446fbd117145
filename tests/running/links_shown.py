"""What a page offers to click on: links, forms and buttons."""

import re
from dataclasses import dataclass, field
from html import unescape
from html.parser import HTMLParser

from pages_server import PATIENCE_S
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.sync.client import connect


@dataclass
class Offered:
    """What a page offers.

    Attributes
    ----------
    links : set of str
        Addresses on this server.
    forms : set of tuple
        Method, address, and the hidden fields as pairs.
    buttons : set of str
        What is said on them, of Streamlit's pages.
    words : str
        All that the page says.
    """

    links: set[str] = field(default_factory=set)
    forms: set[tuple[str, str, tuple[tuple[str, str], ...]]] = field(default_factory=set)
    buttons: set[str] = field(default_factory=set)
    words: str = ""


class _Reader(HTMLParser):
    def __init__(self, into: Offered) -> None:
        super().__init__()
        self._into = into
        self._form: tuple[str, str] | None = None
        self._hidden: list[tuple[str, str]] = []

    def handle_starttag(self, tag, attrs):
        said = dict(attrs)
        if tag == "a" and (said.get("href") or "").startswith("/"):
            self._into.links.add(said["href"])
        elif tag == "form":
            self._form, self._hidden = (said.get("method", "get").upper(), said["action"]), []
        elif tag == "input" and self._form and said.get("type") == "hidden":
            self._hidden.append((said["name"], said.get("value", "")))

    def handle_endtag(self, tag):
        if tag == "form" and self._form:
            self._into.forms.add((*self._form, tuple(self._hidden)))
            self._form = None


def offered_by_html(text: str) -> Offered:
    """Return what a plain page offers."""
    found = Offered(words=text)
    _Reader(found).feed(text)
    return found


def offered_by_page(address: str, page: str, query: str, cookie: str) -> Offered:
    """Open one of Streamlit's pages over its websocket, and return what it offers.

    What a page begins again by itself counts anew.
    """
    asked = BackMsg()
    asked.rerun_script.query_string = query
    asked.rerun_script.page_name = page
    url = f"{address.replace('http', 'ws', 1)}/_stcore/stream"
    found = Offered()
    with connect(
        url,
        subprotocols=["streamlit"],
        max_size=None,
        origin=address,
        additional_headers={"Cookie": cookie},
    ) as socket:
        socket.send(asked.SerializeToString())
        while True:
            said = ForwardMsg.FromString(socket.recv(timeout=PATIENCE_S))
            kind = said.WhichOneof("type")
            if kind == "delta" and said.delta.WhichOneof("type") == "new_element":
                _add(said.delta.new_element, found)
            if kind != "script_finished":
                continue
            if said.script_finished == ForwardMsg.FINISHED_SUCCESSFULLY:
                return found
            found = Offered()


def _add(element, found: Offered) -> None:
    kind = element.WhichOneof("type")
    if kind == "exception":
        raise AssertionError(element.exception.message)
    if kind == "html":
        _Reader(found).feed(element.html.body)
        found.words += element.html.body
    elif kind == "markdown":
        found.links |= {unescape(to) for to in re.findall(r"\]\((/[^)]*)\)", element.markdown.body)}
        found.words += element.markdown.body
    elif kind == "alert":
        found.words += element.alert.body
    elif kind == "page_link":
        query = element.page_link.query_string
        found.links.add(f"/{element.page_link.page}{'?' if query else ''}{query}")
    elif kind == "link_button":
        found.links.add(element.link_button.url)
    elif kind == "button":
        found.buttons.add(element.button.label)
