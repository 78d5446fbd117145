"""Requests to a real server, as the form and a browser send them."""

import http.client
import json
import os
import re
import subprocess
import time
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from pages_server import COMMAND, free_port, start_pages, stop_pages

API = "/walkdown/api/drafts"


@dataclass(frozen=True)
class Answered:
    code: int
    body: bytes
    headers: dict[str, str]

    @property
    def said(self):
        return json.loads(self.body)

    @property
    def text(self):
        return self.body.decode()


class Server:
    """The dashboard over a store, as a process of its own that writes into a log."""

    def __init__(self, store_url, log, command=(COMMAND, "dashboard")):
        self.log = log
        self.port = free_port()
        with log.open("w") as out:
            self.process = start_pages(
                store_url,
                command=command,
                port=self.port,
                stdout=out,
                stderr=subprocess.STDOUT,
                env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
            )
        self.ask("GET", "/walkdown")  # the first one imports

    def stop(self):
        stop_pages(self.process)

    def ask(self, method, path, body=None, headers=None):
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=300)
        try:
            held_by = {"Cookie": "person=Ben%20Meier"}
            connection.request(method, path, body=body, headers={**held_by, **(headers or {})})
            answer = connection.getresponse()
            return Answered(answer.status, answer.read(), dict(answer.getheaders()))
        finally:
            connection.close()

    def send(self, method, path, content, **headers):
        """Send JSON, as the form does."""
        more = {"Content-Type": "application/json", **headers}
        return self.ask(method, path, json.dumps(content).encode(), more)

    def post_form(self, path, fields, **headers):
        """Send a plain HTML form, as a browser does."""
        more = {"Content-Type": "application/x-www-form-urlencoded", **headers}
        return self.ask("POST", path, urlencode(fields, doseq=True).encode(), more)

    def begin(self, unit_id, by="Ben Meier"):
        answer = self.post_form("/walkdown/new", {"unit": unit_id, "by": by})
        assert answer.code == 303, answer.text
        return answer.headers["location"].removeprefix("/walkdown/")

    def give(self, draft_id, field, value, **more):
        content = {
            "heading": field,
            "value": value,
            "reason": "",
            "base_revision": 0,
            "by": "Ben Meier",
            "client": "window 1",
            **more,
        }
        return self.send("PUT", f"{API}/{draft_id}/answers/{quote(field, safe='')}", content)

    def answer_visit(self, draft_id, **more):
        visit = {
            "kind": "periodic",
            "inspected_on": time.strftime("%Y-%m-%d"),
            "inspector": "Ben Meier",
            **more,
        }
        for field, value in visit.items():
            answer = self.give(draft_id, field, value)
            assert answer.code == 200, answer.text

    def submit(self, draft_id, **more):
        content = {"signed_by": "Ben Meier", "told": "Foreman", "reason": "", **more}
        return self.send("POST", f"{API}/{draft_id}/submit", content)


def data_of(page):
    """Return what a form's page holds as data."""
    found = re.findall(r'<script type="application/json" id="data">(.*?)</script>', page, re.DOTALL)
    assert len(found) == 1
    return json.loads(found[0])
