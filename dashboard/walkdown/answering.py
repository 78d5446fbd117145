"""How requests are answered: work is done in a thread, and an error is said in words."""

import json
import time
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import Any
from urllib.parse import parse_qs, unquote

from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from dashboard import launch_settings, own_fault
from dashboard.guard.answer_headers import POLICY
from dashboard.guard.request_log import FAULT, ROUTE
from dashboard.identity import ASKER
from dashboard.person_cookie import person_of
from dashboard.presenters.own_fault_words import own_fault_words
from dashboard.walkdown.templates import page_policy, render
from scoring.access.acts import Act
from scoring.access.who_asks import (
    NotAllowedError,
    NotSignedInError,
    asked_by,
    require,
    who_asks,
)
from scoring.entering.refusals import ClosedDraftError, RefusedError, TooManyPhotosError
from scoring.errors import FixableError
from scoring.language.reading import read_as, reading_from
from scoring.store.open_store import Store
from scoring.store.store_errors import (
    BusyStoreError,
    ChangedMeanwhileError,
    NoStoreError,
    OtherSchemaError,
    UnknownRecordError,
)
from scoring.store.whole_text import not_whole

LARGEST = 1_000_000
"""Of an answer, or of a plain form; planning value of ours. [bytes]"""

LARGEST_PHOTO = 20_000_000
"""Of a photo as it is sent; what is kept may be smaller. Planning value of ours. [bytes]"""

LONGEST_TEXT = 20_000
"""Of any text that is sent; what is kept may be shorter. Planning value of ours. [characters]"""

LONGEST_WAIT_S = 10
"""Of an answer for its turn to be written; the form gives up after 15 s. Planning value of ours."""

MOST_FIELDS = 500
"""Of a plain HTML form; planning value of ours."""


@dataclass(frozen=True)
class FormRequest:
    """A request, read.

    Attributes
    ----------
    kept_in : Store or None
        The store behind the pages; none where they show files.
    path : dict of str to str
        Parts of the path.
    query : dict of str to str
        After the question mark.
    body : bytes
        What was sent.
    at : float
        When it came, by the clock ``time.monotonic``. [s]
    person : str
        Who is signed in, or holds the device by its cookie; empty where nobody has said so yet.
    cookies : dict of str to str
        What else the device keeps of its own.
    """

    kept_in: Store | None
    path: dict[str, str]
    query: dict[str, str]
    body: bytes = field(repr=False, default=b"")
    at: float = field(default_factory=time.monotonic)
    person: str = ""
    cookies: dict[str, str] = field(default_factory=dict)

    @property
    def store(self) -> Store:
        """The store behind the pages.

        Raises
        ------
        UnknownRecordError
            If they show files.
        """
        if self.kept_in is None:
            raise UnknownRecordError(NO_STORE)
        return self.kept_in

    def require_not_given_up(self) -> None:
        """Refuse what waited so long that its sender no longer does.

        The form sends again what had no answer; what it sent first must not be taken after that.

        Raises
        ------
        BusyStoreError
            If it came too long ago.
        """
        if time.monotonic() - self.at > LONGEST_WAIT_S:
            raise BusyStoreError("too many write at once; this answer was not kept, send it again")

    def json(self) -> dict[str, Any]:
        """Return what was sent, as the object it is."""
        try:
            sent = json.loads(self.body or b"{}")
        except (ValueError, RecursionError):
            sent = None
        if not isinstance(sent, dict):
            raise FixableError("what was sent is no JSON object")
        return sent

    def text(self, name: str) -> str:
        """Return one text of what was sent as JSON; empty where it is not there."""
        value = self.json().get(name, "")
        if not isinstance(value, str):
            raise FixableError(f"{name} is a text")
        _require_whole(name, value)
        return _in_name_of(name, value)

    def fields(self) -> dict[str, str]:
        """Return what was sent by a plain HTML form."""
        return {name: values[0] for name, values in self.lists().items()}

    def lists(self, *, blank: bool = False) -> dict[str, list[str]]:
        """Return what was sent by a plain HTML form, where a name may stand several times."""
        text = self.body.decode("utf-8", errors="replace")
        try:
            sent = parse_qs(text, keep_blank_values=blank, max_num_fields=MOST_FIELDS)
        except ValueError as error:
            raise FixableError("far too many fields were sent") from error
        for name, values in sent.items():
            for value in values:
                _require_whole(name, value)
        name = who_asks().name or sent.get("by", [""])[0]  # which forms do not ask for then
        return {**sent, "by": [name]} if name else sent


CODE_OF = (
    (NotSignedInError, HTTPStatus.UNAUTHORIZED),
    (NotAllowedError, HTTPStatus.FORBIDDEN),
    (ClosedDraftError, HTTPStatus.GONE),
    (TooManyPhotosError, HTTPStatus.SERVICE_UNAVAILABLE),
    (RefusedError, HTTPStatus.UNPROCESSABLE_ENTITY),
    (UnknownRecordError, HTTPStatus.NOT_FOUND),
    (ChangedMeanwhileError, HTTPStatus.CONFLICT),
    (BusyStoreError, HTTPStatus.SERVICE_UNAVAILABLE),
    (NoStoreError, HTTPStatus.SERVICE_UNAVAILABLE),
    (OtherSchemaError, HTTPStatus.SERVICE_UNAVAILABLE),
    (FixableError, HTTPStatus.UNPROCESSABLE_ENTITY),
)
"""Which code goes with which error; the first that fits."""

NO_STORE = (
    "these pages show files, into which nothing is written; to enter walkdowns, ask who started "
    "these pages to load the records into a store, and to show that"
)

SIGNING = frozenset({"by", "signed_by"})
"""Fields that name who writes or signs."""

Work = Callable[[FormRequest], Response]
Endpoint = Callable[[Request], Awaitable[Response]]


def answering(
    work: Work, route: str, act: Act, *, page: bool = False, largest: int = LARGEST
) -> Endpoint:
    """Make an endpoint of a function from a request that was read to a response.

    Parameters
    ----------
    work : callable
        Runs in a thread, for it waits for the database.
    route : str
        As it is declared, for the log.
    act : Act
        What who asks must be allowed to do, wherever it is.
    page : bool
        Whether a person sees what comes back, rather than the form.
    largest : int
        Of what may be sent to it. [bytes]

    Returns
    -------
    callable
    """

    async def endpoint(request: Request) -> Response:
        came = time.monotonic()
        request.scope[ROUTE] = route
        try:
            body = await _body(request, largest)
        except ClientDisconnect:
            return Response(status_code=HTTPStatus.BAD_REQUEST)  # nobody is there to read it
        if body is None:
            return _message(
                f"at most {largest / 1e6:.0f} MB can be sent",
                HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
                page=page,
            )
        response: Response = await run_in_threadpool(
            _asked, _Asked(work, act, page=page), request, body, came
        )
        response.headers.setdefault("Cache-Control", "no-store")
        response.headers.setdefault(POLICY, page_policy())
        return response

    return endpoint


async def _body(request: Request, largest: int) -> bytes | None:
    """Read what was sent; none where it is too large, whatever its headers say."""
    if int(request.headers.get("content-length") or 0) > largest:
        return None
    body = bytearray()
    async for part in request.stream():
        body += part
        if len(body) > largest:
            return None
    return bytes(body)


@dataclass(frozen=True)
class _Asked:
    """What answers, to whom, and whether as a page."""

    work: Work
    act: Act
    page: bool


def _asked(asked: _Asked, request: Request, body: bytes, came: float) -> Response:
    """Answer in the name of who is signed in; with a login, to nobody else."""
    asker = request.scope.get(ASKER)
    if asker is None:
        return _answer(asked, request, body, came)
    with asked_by(asker):
        return _answer(asked, request, body, came)


def _answer(asked: _Asked, request: Request, body: bytes, came: float) -> Response:
    page = asked.page
    path = {name: str(value) for name, value in request.path_params.items()}
    query = dict(request.query_params)
    read_as(reading_from(request.cookies, request.headers.get("accept-language")))
    try:
        asker = require(asked.act)
        query = {name: _in_name_of(name, value) for name, value in query.items()}
        for name, value in (*path.items(), *query.items()):
            _require_whole(name, value)
        kept_in = launch_settings.store()
        cookies = {name: unquote(value) for name, value in request.cookies.items()}
        person = asker.name or person_of(request.cookies)
        return asked.work(FormRequest(kept_in, path, query, body, came, person, cookies))
    except FixableError as error:
        code = next(code for kind, code in CODE_OF if isinstance(error, kind))
        return _message(str(error), code, page=page, **_details(error))
    except Exception as error:  # noqa: BLE001 - a fault of ours is said in words, too
        mark = own_fault.note(error, f"{request.method} {request.scope[ROUTE]}")
        request.scope[FAULT] = mark
        words = " ".join(own_fault_words(mark))
        return _message(words, HTTPStatus.INTERNAL_SERVER_ERROR, page=page)


def _in_name_of(field: str, said: str) -> str:
    """Return who writes: who is signed in, whatever name is said; else whoever it is said to be.

    Where no name is said nobody writes, with a login too: a signature is never an empty request.
    """
    return (who_asks().name or said) if field in SIGNING and said.strip() else said


def _require_whole(name: str, text: str) -> None:
    """Refuse what neither a database nor an answer could hold."""
    wrong = not_whole(text, LONGEST_TEXT)
    if wrong:
        raise FixableError(f"{name!r} {wrong}")


def _details(error: FixableError) -> dict[str, object]:
    if isinstance(error, ClosedDraftError):
        return {"status": error.status}
    if isinstance(error, RefusedError):
        return {"faults": [{"field": f.field, "words": f.words} for f in error.faults]}
    return {}


def _message(words: str, code: HTTPStatus, *, page: bool, **more: object) -> Response:
    if page:
        return HTMLResponse(render("message.html", words=words), code)
    return JSONResponse({"words": words, **more}, code)
