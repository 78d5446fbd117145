"""A connection to PostgreSQL that does not wait for ever for a network that is gone."""

import time
from collections.abc import Generator
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from psycopg import Connection

CONNECT_S = 5
"""How long a connection may take to be made; planning value of ours. [s]"""

STILL_THERE_S = 5.0
"""How long a connection that lay idle may take to answer; planning value of ours. [s]"""

ANSWER_S = 75.0
"""How long one statement may take, more than any wait for other writers. Ours. [s]"""

KEPT_ALIVE: dict[str, Any] = {
    "connect_timeout": CONNECT_S,
    "keepalives_idle": 10,
    "keepalives_interval": 5,
    "keepalives_count": 3,
    "tcp_user_timeout": 20_000,
}
"""By which the system itself notices that nobody is there."""


def connect(*given: Any, **options: Any) -> "Connection[Any]":  # noqa: ANN401 - as psycopg's own
    """Connect to PostgreSQL; what is asked is answered in time, or fails in words."""
    import psycopg  # noqa: PLC0415 - only who uses PostgreSQL has it

    class PatientConnection(psycopg.Connection[Any]):
        patience_s: float | None = STILL_THERE_S

        def wait(self, gen: Any, *args: Any, **kwargs: Any) -> Any:  # noqa: ANN401
            return super().wait(self._bounded(gen), *args, **kwargs)

        def _bounded(self, gen: Generator[Any, Any, Any]) -> Generator[Any, Any, Any]:
            end = None if self.patience_s is None else time.monotonic() + self.patience_s
            try:
                wanted = next(gen)
                while True:
                    ready = yield wanted
                    if not ready and end is not None and time.monotonic() > end:
                        self.pgconn.finish()
                        raise psycopg.OperationalError(
                            f"the connection gave no answer for {self.patience_s:g} s"
                        )
                    wanted = gen.send(ready)
            except StopIteration as done:
                return done.value

    return PatientConnection.connect(*given, **{**KEPT_ALIVE, **options})
