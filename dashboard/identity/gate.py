"""The gate before the whole server: who has not signed in gets nothing but the way to do so.

What lets a request through here says who asks in its scope; what reads and writes asks again.
"""

from collections.abc import Iterable, Mapping
from html import escape
from http import HTTPStatus
from urllib.parse import quote

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.middleware import Middleware
from starlette.middleware.sessions import SessionMiddleware
from starlette.requests import HTTPConnection, Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp, Receive, Scope, Send
from streamlit.runtime import Runtime
from streamlit.runtime.media_file_storage import MediaFileStorageError

from dashboard.identity import ASKER
from dashboard.identity.login import Login
from dashboard.identity.plain_page import plain_page
from dashboard.made_files import is_made_for
from dashboard.pages_there_are import PAGES
from scoring.access.who_asks import Asker
from scoring.errors import FixableError
from scoring.language.reading import read_as, reading_from
from scoring.language.tell import told

OPEN = ("/_stcore/health", "/health")
"""What answers to anybody: whether the server is there."""

SIGNING = ("/sign-in", "/sign-in/back", "/sign-out", "/signed-out")

MEDIA, UPLOADS = "/media/", "/_stcore/upload_file/"
"""Files of pages: answered to the person whose page made them, or asked for them."""

NOT_SIGNED_IN = "you are not signed in; open the pages in a browser and sign in"
NOT_YOURS = "this file belongs to a page of somebody else"


class Gate:
    """Lets requests through of who has signed in and has a role.

    Parameters
    ----------
    app : callable
        The server behind.
    login : Login
        How people sign in, and who has.
    """

    def __init__(self, app: ASGIApp, login: Login) -> None:
        self._app = app
        self._login = login
        self._signing: Starlette | None = None

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or let it through."""
        if scope["type"] not in {"http", "websocket"} or scope["path"] in OPEN:
            await self._app(scope, receive, send)
            return
        connection = HTTPConnection(scope)
        read_as(reading_from(connection.cookies, connection.headers.get("accept-language")))
        if scope["path"] in SIGNING:
            await self._sign(scope, receive, send)
            return
        try:
            refused = await run_in_threadpool(self._refused, scope, connection)
        except FixableError as error:  # the store is away: nobody is known
            refused = _said(told(str(error)), HTTPStatus.SERVICE_UNAVAILABLE)
        if refused is None:
            await self._app(scope, receive, send)
        elif scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008})  # refused before it begins
        else:
            await refused(scope, receive, send)

    def _refused(self, scope: Scope, connection: HTTPConnection) -> Response | None:
        session = self._login.sessions.find(connection.cookies)
        if session is None:
            return _to_sign_in(scope, connection)
        asker = self._login.asker(session)
        if asker is None:
            return _no_role(session.who.subject, scope)
        wanted = next((one for one in PAGES if scope["path"].strip("/") == one.path), None)
        if wanted is not None and not asker.may(wanted.act):
            return _said(may_not(asker, wanted.act.value), HTTPStatus.FORBIDDEN)
        if not self._is_own_file(scope["path"], asker):
            return _said(NOT_YOURS, HTTPStatus.FORBIDDEN)
        scope[ASKER] = asker
        return None

    def _is_own_file(self, path: str, asker: Asker) -> bool:
        own = {page for page, owner in self._login.owners.items() if owner == asker.subject}
        if path.startswith(UPLOADS):
            return path.removeprefix(UPLOADS).split("/")[0] in own
        if path.startswith(MEDIA):
            file = path.removeprefix(MEDIA)
            return file.partition(".")[0] in _files_of(own) or _was_made_for(asker, file)
        return True

    async def _sign(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        if self._signing is None:
            self._signing = await run_in_threadpool(signing_in, self._login)
        await self._signing(scope, receive, send)


def signing_in(login: Login) -> Starlette:
    """Return what answers requests to sign in and out; imported when first asked for."""
    from dashboard.identity import provider  # noqa: PLC0415 - cryptography and HTTP take a second

    asks = provider.Provider(login)

    async def ask_sign_in(request: Request) -> Response:
        return await asks.sign_in(request)

    async def come_back(request: Request) -> Response:
        return await asks.back(request)

    async def ask_sign_out(request: Request) -> Response:
        return await asks.ask_sign_out(request)

    async def sign_out(request: Request) -> Response:
        if request.headers.get("origin") != login.settings.public_url:
            return PlainTextResponse(told(FROM_ELSEWHERE), HTTPStatus.FORBIDDEN)
        return await asks.sign_out(request)

    async def signed_out(request: Request) -> Response:
        del request
        return provider.signed_out()

    return Starlette(
        routes=[
            Route(provider.SIGN_IN, ask_sign_in),
            Route(provider.BACK, come_back),
            Route(provider.SIGN_OUT, ask_sign_out, methods=["GET"]),
            Route(provider.SIGN_OUT, sign_out, methods=["POST"]),
            Route("/signed-out", signed_out),
        ],
        middleware=[
            Middleware(
                SessionMiddleware,
                secret_key=login.sessions.key_of_flows,
                session_cookie="mount_risk_sign_in",
                max_age=provider.FLOW_S,
                path="/sign-in",
                same_site="lax",
                https_only=login.settings.is_encrypted,
            )
        ],
    )


FROM_ELSEWHERE = "requests come from our own pages only"


def may_not(asker: Asker, act: str) -> str:
    """Say that somebody may not do something."""
    return f"{asker.name} may not {act}; an administrator grants it"


def _files_of(pages: Iterable[str]) -> set[str]:
    """Return the names of the files that some sessions of Streamlit show or offer."""
    by_session: Mapping[str, Mapping[str, str]] = (
        Runtime.instance().media_file_mgr._files_by_session_and_coord  # noqa: SLF001 - told nowhere else
    )
    return {file for page in pages for file in dict(by_session.get(page, {})).values()}


def _was_made_for(asker: Asker, file: str) -> bool:
    """Tell whether a file was made when somebody asked for it by a click."""
    try:
        kept = Runtime.instance().media_file_mgr._storage.get_file(file)  # type: ignore[attr-defined]  # noqa: SLF001
    except MediaFileStorageError:
        return False
    return is_made_for(asker.subject, kept.content)


def _to_sign_in(scope: Scope, connection: HTTPConnection) -> Response:
    asks_for_page = scope["type"] == "http" and scope["method"] == "GET"
    if not asks_for_page or "text/html" not in connection.headers.get("accept", ""):
        return _said(NOT_SIGNED_IN, HTTPStatus.UNAUTHORIZED)
    query = scope["query_string"].decode("latin-1")
    to = quote(f"{scope['path']}{'?' if query else ''}{query}", safe="/")
    return Response(None, HTTPStatus.SEE_OTHER, {"Location": f"/sign-in?to={to}"})


def _no_role(subject: str, scope: Scope) -> Response:
    words = (
        "You are signed in, and have no role here yet. An administrator grants one, to the "
        "subject by which the provider of the login knows you:"
    )
    if scope["type"] != "http" or scope["method"] != "GET":
        return _said("you have no role here; an administrator grants one", HTTPStatus.FORBIDDEN)
    named = f'<p translate="no"><strong>{escape(subject)}</strong></p>'
    away = '<p><a href="/sign-out">Sign out</a></p>'
    return HTMLResponse(plain_page("No role", words, named + away), HTTPStatus.FORBIDDEN)


def _said(words: str, code: HTTPStatus) -> Response:
    """Answer in one sentence."""
    return PlainTextResponse(told(words), code, {"Cache-Control": "no-store"})
