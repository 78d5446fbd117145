"""The routes of the form and of the pages around it, imported when one is first asked for.

What they need of the store takes half a second, for which no ranking waits.
"""

from functools import cache

from starlette.concurrency import run_in_threadpool
from starlette.routing import Route, Router
from starlette.types import Receive, Scope, Send

BEGIN = ("/today", "/walkdown", "/reading", "/sheet", "/enter")


class WhenAsked:
    """Answers as the routes do."""

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request."""
        answering = await run_in_threadpool(form_router)
        await answering(scope, receive, send)


@cache
def form_router() -> Router:
    """Return what answers."""
    from dashboard.walkdown.http_routes import http_routes  # noqa: PLC0415 - see above

    return Router(http_routes())


def routes_when_asked() -> list[Route]:
    """Return routes to all addresses that begin as those of the form and the pages around it."""
    whole = [Route(begin, WhenAsked()) for begin in BEGIN]
    return whole + [Route(f"{begin}/{{rest:path}}", WhenAsked()) for begin in BEGIN]
