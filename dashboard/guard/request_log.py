"""One line of JSON a request: enough to see how the server fares, nothing of whom or what about.

No address of a reader, no name, no id of a unit or a draft, nothing of what was asked or sent: the
route stands there as it is written in the code.
"""

import json
import logging
import os
import sys
import time
from datetime import UTC, datetime
from typing import Any

from starlette.types import Scope

from dashboard.pages_there_are import PAGES

LOG = "MOUNT_RISK_LOG"
"""Environment variable by which the command line tells where the log goes."""

ROUTE = "mount_risk.route"
FAULT = "mount_risk.fault"
"""Where a request's scope tells the route that answers it, and the mark of a fault of ours."""

_PAGES = frozenset({"/", *(f"/{page.path}" for page in PAGES)})
_SIGNING = ("/sign-in", "/sign-in/back", "/sign-out", "/signed-out")
_BEGIN = ("/_stcore/", "/static/", "/media/", "/component/", "/auth/")
_EXACT = ("/_stcore/health", "/_stcore/host-config", "/_stcore/stream", "/favicon.png", *_SIGNING)

_log = logging.getLogger("mount_risk.requests")


class JsonLines(logging.Formatter):
    """Writes each record as one JSON object on a line of its own."""

    def format(self, record: logging.LogRecord) -> str:
        """Return the line."""
        said = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "event": record.getMessage(),
            **getattr(record, "told", {}),
        }
        return json.dumps(said)


def open_log() -> None:
    """Let the log go where the command line told; without a word of it there is none."""
    where = os.environ.get(LOG, "")
    _log.propagate = False
    _log.setLevel(logging.INFO if where else logging.CRITICAL)
    _log.handlers.clear()
    if where:
        handler = (
            logging.StreamHandler(sys.stdout)
            if where == "-"
            else logging.FileHandler(where, encoding="utf-8", delay=False)
        )
        handler.setFormatter(JsonLines())
        _log.addHandler(handler)


def tell(event: str, **told: Any) -> None:  # noqa: ANN401 - what JSON can hold
    """Write a line on what happened, with what is told beside it."""
    _log.info(event, extra={"told": told})


def tell_request(scope: Scope, mark: str, *, status: int, size: int, began: float) -> None:
    """Write the line of a request.

    Parameters
    ----------
    scope : Scope
        Of the request.
    mark : str
        By which the request is known; its answer carries it too.
    status : int
        Code of the answer.
    size : int
        Of what was answered. [bytes]
    began : float
        By the clock ``time.monotonic``. [s]
    """
    if not _log.isEnabledFor(logging.INFO):
        return
    told = {
        "request": mark,
        "method": scope.get("method", "WEBSOCKET") if scope["type"] == "http" else "WEBSOCKET",
        "route": route_of(scope),
        "status": status,
        "ms": round((time.monotonic() - began) * 1000, 1),
        "bytes": size,
    }
    if FAULT in scope:
        told["fault"] = scope[FAULT]
    tell("request", **told)


def route_of(scope: Scope) -> str:
    """Return the route of a request as a pattern, without any part that tells more.

    Examples
    --------
    >>> [route_of({"path": path}) for path in ("/unit", "/static/js/a.js", "/Ann")]
    ['/unit', '/static/{}', '{}']
    """
    if ROUTE in scope:
        return str(scope[ROUTE])
    path = scope["path"]
    if path in _PAGES or path in _EXACT:
        return str(path)
    return next((f"{begin}{{}}" for begin in _BEGIN if path.startswith(begin)), "{}")
