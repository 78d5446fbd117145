"""How much may be sent, how slowly, and by how many at once.

What is sent is read piece by piece, and no piece more than is allowed: so neither a length that
lies nor one that is not told at all makes a difference. What drips in lets go of its place.
"""

import asyncio
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from starlette.datastructures import Headers
from starlette.types import Message, Receive, Scope, Send

LARGEST_UPLOAD = 22_000_000
"""Of a photo, or a file that is brought in; what takes it may take less. Planning value. [bytes]"""

LARGEST_OTHER = 2_000_000
"""Of anything else; planning value of ours. [bytes]"""

SMALL = 64_000
"""What is no larger waits for no turn. Planning value of ours. [bytes]"""

PATIENCE_S = 20.0
SLOWEST = 10_000.0
LONGEST_S = 300.0
"""A body may take so long, and longer by so many bytes a second; then it is given up. Ours. [s]"""

UPLOADS_AT_ONCE = 8
WAIT_FOR_A_TURN_S = 60.0
"""Of larger bodies, which lie in the memory until they are kept. Planning values of ours. [s]"""

ANSWER_PATIENCE_S = 120.0
"""How long a piece of an answer waits for who asked to take it; planning value of ours. [s]"""

UPLOADS = ("/_stcore/upload_file/", "/walkdown/api/drafts/")


class TooMuchSentError(Exception):
    """More was sent than this address takes."""


class TooSlowError(Exception):
    """What was sent came in too slowly, or an answer was not taken."""


class TooManyAtOnceError(Exception):
    """Too many send something large at this moment."""


class Turns:
    """Turns for those who send something large."""

    def __init__(self, at_once: int = UPLOADS_AT_ONCE) -> None:
        self._free = asyncio.Semaphore(at_once)

    @asynccontextmanager
    async def one(self) -> AsyncIterator[None]:
        """Wait for a turn, and hold it.

        Raises
        ------
        TooManyAtOnceError
            If none was free for too long.
        """
        try:
            async with asyncio.timeout(WAIT_FOR_A_TURN_S):
                await self._free.acquire()
        except TimeoutError:
            raise TooManyAtOnceError from None
        try:
            yield
        finally:
            self._free.release()


def is_large(scope: Scope) -> bool:
    """Tell whether a request brings, or may bring, more than a little."""
    headers = Headers(scope=scope)
    length = headers.get("content-length")
    if length is None:
        return "transfer-encoding" in headers
    return not length.isdecimal() or int(length[:18]) > SMALL


def largest_of(scope: Scope) -> int:
    """Return how much may be sent to an address, in bytes."""
    return LARGEST_UPLOAD if scope["path"].startswith(UPLOADS) else LARGEST_OTHER


def bounded(scope: Scope, receive: Receive) -> Receive:
    """Make what receives a request's body refuse too much of it, and what comes too slowly.

    What answers may refuse it before, in words of its own.
    """
    largest = largest_of(scope)
    began = time.monotonic()
    received, is_whole = 0, False

    async def receiving() -> Message:
        nonlocal received, is_whole
        if is_whole:  # what is waited for now is that who asked goes away
            return await receive()
        patience = min(PATIENCE_S + received / SLOWEST, LONGEST_S)
        try:
            async with asyncio.timeout(began + patience - time.monotonic()):
                message = await receive()
        except TimeoutError:
            raise TooSlowError from None
        received += len(message.get("body", b""))
        is_whole = not message.get("more_body", False)
        if received > largest:
            raise TooMuchSentError
        return message

    return receiving


def patient(send: Send) -> Send:
    """Make what sends an answer give up who does not take it."""

    async def sending(message: Message) -> None:
        try:
            async with asyncio.timeout(ANSWER_PATIENCE_S):
                await send(message)
        except TimeoutError:
            raise TooSlowError from None

    return sending
