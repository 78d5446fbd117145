"""How requests are answered: work is done in a thread, and an error is said in words."""

import json
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import Any
from urllib.parse import parse_qs, urlsplit

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from dashboard import started_with
from dashboard.walkdown.templates import render
from scoring.errors import FixableError
from scoring.store.errors import (
    BusyStoreError,
    ChangedMeanwhileError,
    ClosedDraftError,
    NoStoreError,
    RefusedError,
    UnknownRecordError,
)
from scoring.store.store import Store

LARGEST_BODY = 20_000_000
"""Planning value of ours. [bytes]"""


@dataclass(frozen=True)
class Asked:
    """A request, read.

    Attributes
    ----------
    store : Store
        The store behind the pages.
    path : dict of str to str
        Parts of the path.
    query : dict of str to str
        After the question mark.
    body : bytes
        What was sent.
    """

    store: Store
    path: dict[str, str]
    query: dict[str, str]
    body: bytes = field(repr=False, default=b"")

    def json(self) -> dict[str, Any]:
        """Return what was sent, as the object it is."""
        try:
            sent = json.loads(self.body or b"{}")
        except ValueError:
            sent = None
        if not isinstance(sent, dict):
            raise FixableError("what was sent is no JSON object")
        return sent

    def text(self, name: str) -> str:
        """Return one text of what was sent as JSON; empty where it is not there."""
        value = self.json().get(name, "")
        if not isinstance(value, str):
            raise FixableError(f"{name} is a text")
        return value

    def fields(self) -> dict[str, str]:
        """Return what was sent by a plain HTML form."""
        sent = parse_qs(self.body.decode("utf-8", errors="replace"))
        return {name: values[0] for name, values in sent.items()}


CODE_OF = (
    (ClosedDraftError, HTTPStatus.GONE),
    (RefusedError, HTTPStatus.UNPROCESSABLE_ENTITY),
    (UnknownRecordError, HTTPStatus.NOT_FOUND),
    (ChangedMeanwhileError, HTTPStatus.CONFLICT),
    (BusyStoreError, HTTPStatus.SERVICE_UNAVAILABLE),
    (NoStoreError, HTTPStatus.SERVICE_UNAVAILABLE),
    (FixableError, HTTPStatus.UNPROCESSABLE_ENTITY),
)
"""Which code goes with which error; the first that fits."""

Work = Callable[[Asked], Response]
Endpoint = Callable[[Request], Awaitable[Response]]


def answering(work: Work, *, page: bool = False) -> Endpoint:
    """Make an endpoint of a function from a request that was read to a response.

    Parameters
    ----------
    work : callable
        Runs in a thread, for it waits for the database.
    page : bool
        Whether a person sees what comes back, rather than the form.

    Returns
    -------
    callable
    """

    async def endpoint(request: Request) -> Response:
        if _from_elsewhere(request):
            return _told("requests come from our own pages only", HTTPStatus.FORBIDDEN, page=page)
        if int(request.headers.get("content-length") or 0) > LARGEST_BODY:
            return _told(
                f"at most {LARGEST_BODY / 1e6:.0f} MB can be sent",
                HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
                page=page,
            )
        body = await request.body()
        response: Response = await run_in_threadpool(_answer, work, request, body, page=page)
        response.headers.setdefault("Cache-Control", "no-store")
        response.headers.setdefault("X-Content-Type-Options", "nosniff")
        response.headers.setdefault("X-Frame-Options", "DENY")
        return response

    return endpoint


def _answer(work: Work, request: Request, body: bytes, *, page: bool) -> Response:
    path = {name: str(value) for name, value in request.path_params.items()}
    try:
        return work(Asked(_store(), path, dict(request.query_params), body))
    except FixableError as error:
        code = next(code for kind, code in CODE_OF if isinstance(error, kind))
        return _told(str(error), code, page=page, **_details(error))


def _store() -> Store:
    store = started_with.store()
    if store is None:
        raise UnknownRecordError(
            "these pages show files; walkdowns are entered into a store: mount-risk load FLEET "
            "--store URL, then mount-risk dashboard URL"
        )
    return store


def _details(error: FixableError) -> dict[str, object]:
    if isinstance(error, ClosedDraftError):
        return {"status": error.status}
    if isinstance(error, RefusedError):
        return {"faults": [{"field": f.field, "words": f.words} for f in error.faults]}
    return {}


def _told(words: str, code: HTTPStatus, *, page: bool, **more: object) -> Response:
    if page:
        return HTMLResponse(render("told.html", words=words), code)
    return JSONResponse({"words": words, **more}, code)


def _from_elsewhere(request: Request) -> bool:
    """Tell whether a page of another server had the browser send a change."""
    if request.method in ("GET", "HEAD"):
        return False
    site = request.headers.get("sec-fetch-site")
    if site is not None:
        return site not in ("same-origin", "none")
    origin = request.headers.get("origin")
    return origin is not None and urlsplit(origin).netloc != request.headers.get("host", "")
