"""How connections are kept: as many as there is room for, none that asks nothing for long."""

import asyncio
from contextlib import suppress
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol

HEADERS_PATIENCE_S = 10.0
"""How long a connection may take to say what it asks; planning value of ours. [s]"""

MOST_CONNECTIONS = 2_000
"""At once; planning value of ours."""


def most_connections() -> int:
    """Return how many connections there is room for: less than the files a process may open."""
    with suppress(ImportError):  # Windows has no such bound
        import resource  # noqa: PLC0415 - see above

        allowed, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
        return max(64, min(MOST_CONNECTIONS, allowed // 2))
    return MOST_CONNECTIONS


class PatientProtocol(H11Protocol):
    """Lets go of connections that ask nothing; the one that waited longest goes first."""

    _waiting: "dict[PatientProtocol, None]" = {}  # noqa: RUF012 - of all connections, by age

    def __init__(self, *given: Any, **named: Any) -> None:  # noqa: ANN401 - as what it is made from
        super().__init__(*given, **named)
        self._most = most_connections()
        self._given_up: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take a connection, and let go of the idlest where there are too many."""
        super().connection_made(transport)
        self._wait()
        while len(self.connections) > self._most and self._waiting:
            next(iter(self._waiting)).give_up()

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget a connection."""
        self._wait_no_more()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Take what was sent; as long as it is no whole question, time runs."""
        super().data_received(data)
        self._watch()

    def on_response_complete(self) -> None:
        """Wait for the next question."""
        super().on_response_complete()
        self._watch()

    def _watch(self) -> None:
        asks = self.cycle is not None and not self.cycle.response_complete
        is_done = self.transport.is_closing() or self.transport.get_protocol() is not self
        if asks or is_done:
            self._wait_no_more()
        elif self._given_up is None:
            self._wait()

    def _wait(self) -> None:
        self._waiting[self] = None
        self._given_up = self.loop.call_later(HEADERS_PATIENCE_S, self.give_up)

    def _wait_no_more(self) -> None:
        self._waiting.pop(self, None)
        if self._given_up is not None:
            self._given_up.cancel()
            self._given_up = None

    def give_up(self) -> None:
        """Hang up on a connection that asks nothing."""
        self._wait_no_more()
        self.connections.discard(self)
        if not self.transport.is_closing():
            self.transport.abort()
