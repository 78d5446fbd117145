"""Which requests are refused before any page or route sees them."""

from http import HTTPStatus
from typing import NamedTuple

from starlette.datastructures import Headers
from starlette.types import Scope

from dashboard.guard.own_names import OwnNames

METHODS = ("GET", "HEAD", "OPTIONS", "POST", "PUT", "DELETE")
READING = ("GET", "HEAD", "OPTIONS")

LONGEST_ADDRESS = 8_000
"""Of path and query; planning value of ours. [bytes]"""

NOT_OFFERED = ("/_stcore/agent", "/_stcore/metrics", "/_stcore/script-health-check")
"""What the framework would answer, and nobody here needs."""


class Refusal(NamedTuple):
    """A request that is not answered, and why."""

    code: HTTPStatus
    words: str


OTHER_NAME = Refusal(
    HTTPStatus.MISDIRECTED_REQUEST,
    "This server does not answer to that name. Whoever starts it can add the name with "
    "--host-name.",
)
NO_NAME = Refusal(HTTPStatus.BAD_REQUEST, "A request names one server, once, in its header Host.")
FROM_ELSEWHERE = Refusal(HTTPStatus.FORBIDDEN, "Requests come from our own pages only.")
NO_PATH = Refusal(HTTPStatus.BAD_REQUEST, "That is no address of ours.")
TOO_LONG = Refusal(HTTPStatus.REQUEST_URI_TOO_LONG, "That address is too long.")
NO_METHOD = Refusal(HTTPStatus.METHOD_NOT_ALLOWED, f"Only {', '.join(METHODS)} are answered.")
NOT_HERE = Refusal(HTTPStatus.NOT_FOUND, "There is nothing here.")


def refusal_of(scope: Scope, names: OwnNames) -> Refusal | None:
    """Return why a request is refused; nothing where it is let in.

    Parameters
    ----------
    scope : Scope
        Of a request or of a connection that stays open.
    names : OwnNames
        Of this server.

    Returns
    -------
    Refusal or None
    """
    headers = Headers(scope=scope)
    hosts = headers.getlist("host")
    if len(hosts) != 1:
        return NO_NAME
    arrived_at = str((scope.get("server") or ("",))[0])
    if not names.knows(hosts[0], arrived_at):
        return OTHER_NAME
    return _no_address(scope) or _from_elsewhere(scope, headers, hosts[0], names)


def _no_address(scope: Scope) -> Refusal | None:
    path: str = scope["path"]
    if len(scope.get("raw_path") or b"") + len(scope["query_string"]) > LONGEST_ADDRESS:
        return TOO_LONG
    if not path.startswith("/") or any(ord(letter) < 32 or ord(letter) == 127 for letter in path):
        return NO_PATH
    if any(path == gone or path.startswith(f"{gone}/") for gone in NOT_OFFERED):
        return NOT_HERE
    if scope["type"] == "http" and scope["method"] not in METHODS:
        return NO_METHOD
    return None


def _from_elsewhere(scope: Scope, headers: Headers, host: str, names: OwnNames) -> Refusal | None:
    """Refuse what a page of another server had the browser send.

    Browsers name the page's server with whatever may change something; who writes requests by
    hand needs no page to do so.
    """
    is_opened = scope["type"] == "http" and scope["method"] in READING
    origins = headers.getlist("origin")
    site = headers.get("sec-fetch-site")
    if is_opened:
        is_link = headers.get("sec-fetch-mode") == "navigate" and headers.get("sec-fetch-dest") in (
            None,
            "document",
        )
        ours = site in (None, "same-origin", "none") or is_link
        return None if ours else FROM_ELSEWHERE
    if any(not names.sent(origin, host) for origin in origins):
        return FROM_ELSEWHERE
    if site not in (None, "same-origin", "none"):
        return FROM_ELSEWHERE
    referer = headers.get("referer")
    if not origins and referer is not None and not names.sent(_server_of(referer), host):
        return FROM_ELSEWHERE
    return None


def _server_of(page: str) -> str:
    """Return scheme and server of a page's address."""
    scheme, apart, rest = page.partition("://")
    return f"{scheme}{apart}{rest.partition('/')[0]}"
