"""The address by which whoever watches the server asks how it fares."""

import asyncio
import time
from concurrent.futures import ThreadPoolExecutor

from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from dashboard import launch_settings
from dashboard.guard.request_log import ROUTE

ADDRESS = "/health"

PATIENCE_S = 5.0
"""How long the store may take to answer; planning value of ours. [s]"""

KEPT_S = 1.0
"""However often it is asked, the store is asked once in so long; planning value of ours. [s]"""


class Health:
    """Asks the store, one question at a time, and keeps the answer for a moment."""

    def __init__(self) -> None:
        self._asking = ThreadPoolExecutor(1)
        self._asked: asyncio.Future[bool] | None = None
        self._asked_at = 0.0

    async def answer(self, request: Request) -> Response:
        """Say whether the store answers, and is laid out as this version needs it."""
        request.scope[ROUTE] = ADDRESS
        asked = self._asked
        if asked is None or (asked.done() and time.monotonic() - self._asked_at > KEPT_S):
            loop = asyncio.get_running_loop()
            asked = self._asked = loop.run_in_executor(self._asking, store_is_well)
            self._asked_at = time.monotonic()
        try:
            async with asyncio.timeout(PATIENCE_S):
                is_well = await asyncio.shield(asked)
        except TimeoutError:
            is_well = False
        never_kept = {"Cache-Control": "no-store"}
        if is_well:
            return JSONResponse({"status": "ok"}, headers=never_kept)
        words = "the store does not answer as it should; mount-risk check tells more\n"
        return PlainTextResponse(words, 503, never_kept)


def store_is_well() -> bool:
    """Tell whether the store behind the pages answers and has the right schema; true for files."""
    try:
        store = launch_settings.store()
        if store is None:
            return True
        # Half a second, for which no page over files waits.
        from sqlalchemy import text  # noqa: PLC0415

        from scoring.store.schema_version import newest_schema, schema_of  # noqa: PLC0415

        with store.reading() as connection:
            answers = connection.scalar(text("select 1")) == 1
            return answers and schema_of(connection) == newest_schema()
    except Exception:  # noqa: BLE001 - whatever it is, it is not well; who asks learns no more
        return False


def health_route() -> Route:
    """Return the route."""
    return Route(ADDRESS, Health().answer, methods=["GET"])
