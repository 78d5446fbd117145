"""The routes of form and pages asked without a server, so that a test can reach beneath them."""

import asyncio
import functools
import json
from concurrent.futures import ThreadPoolExecutor
from contextvars import copy_context
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from starlette.applications import Starlette

from dashboard import launch_settings
from dashboard.walkdown.http_routes import http_routes

API = "/walkdown/api/drafts"


@dataclass(frozen=True)
class Answer:
    code: int
    body: bytes
    headers: dict[str, str]

    @property
    def text(self):
        return self.body.decode()


class Routes:
    """What a browser on this machine may ask of the pages over a store."""

    def __init__(self):
        self._app = Starlette(routes=http_routes())

    def ask(self, method, path, body=b"", **headers):
        """Ask as who asks here, in a thread: another test's browser has a loop run in this one."""
        asked = functools.partial(self._ask, method, path, body, headers)
        with ThreadPoolExecutor(1) as beside:
            return beside.submit(copy_context().run, lambda: asyncio.run(asked())).result()

    def post_form(self, path, **fields):
        kind = "application/x-www-form-urlencoded"
        return self.ask("POST", path, urlencode(fields).encode(), **{"content-type": kind})

    def begin(self, unit_id, by="Ben Meier"):
        return self.post_form("/walkdown/new", unit=unit_id, by=by)

    def give(self, draft_id, field, value, by="Ben Meier"):
        content = {"heading": field, "value": value, "reason": "", "base_revision": 0}
        sent = json.dumps({**content, "by": by, "client": "window 1"}).encode()
        return self.ask("PUT", f"{API}/{draft_id}/answers/{quote(field)}", sent)

    async def _ask(self, method, path, body, headers):
        plain, _, query = path.partition("?")
        fixed = {"host": "127.0.0.1:8501", "cookie": "person=Ben%20Meier"}
        scope = {
            "type": "http", "http_version": "1.1", "method": method, "scheme": "http",
            "path": plain, "raw_path": plain.encode(), "query_string": query.encode(),
            "root_path": "", "client": ("127.0.0.1", 1), "server": ("127.0.0.1", 8501),
            "headers": [(k.encode(), v.encode()) for k, v in {**fixed, **headers}.items()],
        }  # fmt: skip
        sent = []

        async def receive():
            return {"type": "http.request", "body": body, "more_body": False}

        async def send(message):
            sent.append(message)

        await self._app(scope, receive, send)
        start = sent[0]
        content = b"".join(part.get("body", b"") for part in sent[1:])
        return Answer(
            start["status"], content, {k.decode(): v.decode() for k, v in start["headers"]}
        )


def forget_stores():
    """Let go of the stores that the routes have open."""
    for store in launch_settings._STORES.values():  # noqa: SLF001 - as when the server ends
        store.close()
    launch_settings._STORES.clear()  # noqa: SLF001
