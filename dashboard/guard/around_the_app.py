"""The middleware around the whole server: pages, files, routes of the form, open connections."""

import secrets
import time
from http import HTTPStatus

from starlette.datastructures import MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from dashboard import own_fault
from dashboard.guard.answer_headers import NOTHING, put_headers, streamlit_policy
from dashboard.guard.bounded_bodies import (
    TooManyAtOnceError,
    TooMuchSentError,
    TooSlowError,
    Turns,
    bounded,
    is_large,
    patient,
)
from dashboard.guard.own_names import own_names
from dashboard.guard.refused_requests import Refusal, refusal_of
from dashboard.guard.request_log import FAULT, route_of, tell_request
from dashboard.presenters.own_fault_words import own_fault_words

MOST_SESSIONS = 200
"""Open pages at once, each of which keeps what it shows in the memory. Planning value of ours."""

TOO_MUCH = Refusal(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "That is more than can be sent at once.")
TOO_SLOW = Refusal(HTTPStatus.REQUEST_TIMEOUT, "What was sent came too slowly; send it again.")
TOO_MANY = Refusal(HTTPStatus.SERVICE_UNAVAILABLE, "Too many send at once; send it again.")
TOO_MANY_OPEN = Refusal(HTTPStatus.SERVICE_UNAVAILABLE, "Too many pages are open at once.")


class Guard:
    """Lets in what is ours, bounds it, and puts the same headers on every answer.

    Parameters
    ----------
    app : ASGIApp
        What answers.
    """

    def __init__(self, app: ASGIApp) -> None:
        self._app = app
        self._names = own_names()
        self._policy = streamlit_policy()
        self._turns = Turns()
        self._open = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or pass it on."""
        if scope["type"] == "http":
            await self._answer(scope, receive, send)
        elif scope["type"] == "websocket":
            await self._connect(scope, receive, send)
        else:
            await self._app(scope, receive, send)

    async def _answer(self, scope: Scope, receive: Receive, send: Send) -> None:
        answer = _Answer(scope, patient(send), self._policy)
        try:
            refusal = refusal_of(scope, self._names)
            if refusal is not None:
                await answer.refuse(refusal)
            elif is_large(scope):
                async with self._turns.one():
                    await self._app(scope, bounded(scope, receive), answer.send)
            else:
                await self._app(scope, bounded(scope, receive), answer.send)
        except TooMuchSentError:
            await answer.refuse(TOO_MUCH)
        except TooSlowError:
            await answer.refuse(TOO_SLOW)
        except TooManyAtOnceError:
            await answer.refuse(TOO_MANY)
        except Exception as error:  # noqa: BLE001 - a fault of ours is said in words, too
            mark = own_fault.note(error, f"{scope['method']} {route_of(scope)}")
            scope[FAULT] = mark
            words = " ".join(own_fault_words(mark))
            await answer.refuse(Refusal(HTTPStatus.INTERNAL_SERVER_ERROR, words))
        finally:
            answer.tell()

    async def _connect(self, scope: Scope, receive: Receive, send: Send) -> None:
        began, mark = time.monotonic(), secrets.token_hex(6)
        refusal = refusal_of(scope, self._names)
        if refusal is None and self._open >= MOST_SESSIONS:
            refusal = TOO_MANY_OPEN
        status = HTTPStatus.SWITCHING_PROTOCOLS if refusal is None else refusal.code
        if refusal is not None:
            await _refuse_connection(scope, send, refusal)
            tell_request(scope, mark, status=status, size=0, began=began)
            return
        self._open += 1
        try:
            await self._app(scope, receive, send)
        finally:
            self._open -= 1
            tell_request(scope, mark, status=status, size=0, began=began)


class _Answer:
    """An answer on its way: its headers are put on, and what it was is told in the end."""

    def __init__(self, scope: Scope, send: Send, policy: str) -> None:
        self._scope = scope
        self._send = send
        self._policy = policy
        self._mark = secrets.token_hex(6)
        self._began = time.monotonic()
        self._status = 0
        self._size = 0

    async def send(self, message: Message) -> None:
        """Send a part of it."""
        if message["type"] == "http.response.start":
            self._status = message["status"]
            headers = MutableHeaders(scope=message)
            put_headers(headers, policy=self._policy, is_encrypted=self._scope["scheme"] == "https")
            headers["X-Request-Id"] = self._mark
        elif message["type"] == "http.response.body":
            self._size += len(message.get("body", b""))
        await self._send(message)

    async def refuse(self, refusal: Refusal) -> None:
        """Answer with a plain line, unless an answer is on its way already."""
        if self._status:
            raise ConnectionAbortedError(refusal.words)  # the server hangs up
        headers = {"Content-Security-Policy": NOTHING, "Cache-Control": "no-store"}
        if refusal.code in (HTTPStatus.REQUEST_ENTITY_TOO_LARGE, HTTPStatus.REQUEST_TIMEOUT):
            headers["Connection"] = "close"  # what is still to come is not read
        response = PlainTextResponse(f"{refusal.words}\n", refusal.code, headers)
        await response(self._scope, _nothing_more, self.send)

    def tell(self) -> None:
        """Write it into the log."""
        tell_request(
            self._scope, self._mark, status=self._status, size=self._size, began=self._began
        )


async def _nothing_more() -> Message:
    return {"type": "http.disconnect"}


async def _refuse_connection(scope: Scope, send: Send, refusal: Refusal) -> None:
    if "websocket.http.response" not in scope.get("extensions", {}):
        await send({"type": "websocket.close", "code": 1008})
        return
    headers = MutableHeaders({"content-type": "text/plain; charset=utf-8"})
    put_headers(headers, policy=NOTHING, is_encrypted=scope["scheme"] == "wss")
    await send(
        {
            "type": "websocket.http.response.start",
            "status": refusal.code.value,
            "headers": headers.raw,
        }
    )
    await send({"type": "websocket.http.response.body", "body": f"{refusal.words}\n".encode()})
