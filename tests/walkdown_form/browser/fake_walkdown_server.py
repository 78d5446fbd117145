"""A server of one draft that speaks the page's protocol, and that can be cut off."""

import json
import threading
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import parse_qs, unquote, urlsplit

API = "/walkdown/api"
AT = "2026-11-25T14:03:00Z"


@dataclass
class FakeDraft:
    """What the server has, what it was asked, and how it is to behave."""

    page: str = ""
    unit_id: str = ""
    status: str = "open"
    answers: dict[str, dict] = field(default_factory=dict)
    photos: dict[str, dict] = field(default_factory=dict)
    others: list[dict] = field(default_factory=list)
    corrects: dict | None = None
    refuse: dict[str, str] = field(default_factory=dict)
    verdict: dict = field(default_factory=dict)
    submit_faults: list[dict] = field(default_factory=list)
    cut_off: bool = False
    lose_next_answer: bool = False
    asked: list[tuple[str, str, object]] = field(default_factory=list)
    signed: list[dict] = field(default_factory=list)

    def as_dict(self) -> dict:
        return {
            "draft_id": "d-1",
            "unit_id": self.unit_id,
            "walkdown_id": "W-1",
            "status": self.status,
            "answers": self.answers,
            "photos": [{"photo_id": k, "check": v["check"]} for k, v in self.photos.items()],
            "others": self.others,
            "corrects": self.corrects,
        }

    def put_answer(self, name: str, body: dict) -> tuple[int, dict]:
        if self.status != "open":
            return 410, {"status": self.status, "words": f"this walkdown was {self.status}"}
        if name in self.refuse:
            return 422, {"words": self.refuse[name]}
        there = self.answers.get(name)
        parts = ("heading", "value", "reason")
        if there and all(there[part] == body[part] for part in parts):
            return 200, {"revision": there["revision"], "at": there["at"]}
        is_stale = there and there["revision"] != body["base_revision"]
        if is_stale and there.get("client") != body["client"]:
            return 409, {k: v for k, v in there.items() if k != "client"}
        revision = there["revision"] + 1 if there else 1
        kept = {part: body[part] for part in (*parts, "by", "client")}
        self.answers[name] = {**kept, "revision": revision, "at": AT}
        return 200, {"revision": revision, "at": AT}

    def answer(self, method: str, path: str, body: object) -> tuple[int, object]:
        split = urlsplit(path)
        asked = {name: values[0] for name, values in parse_qs(split.query).items()}
        parts = [unquote(one) for one in split.path.split("/") if one]
        said: tuple[int, object] = (404, {})
        match (method, parts):
            case "GET", ["walkdown", "d-1"]:
                said = 200, self.page
            case "GET", ["walkdown", "api", "drafts", "d-1"]:
                said = 200, self.as_dict()
            case "PUT", ["walkdown", "api", "drafts", "d-1", "answers", name]:
                said = self.put_answer(name, body)
            case "POST", ["walkdown", "api", "drafts", "d-1", "photos", check]:
                key = f"p-{asked['client_photo']}"
                self.photos[key] = {"check": check, "image": body, "by": asked["by"]}
                said = 200, {"photo_id": key}
            case "GET", ["walkdown", "api", "drafts", "d-1", "photos", key]:
                if key in self.photos:
                    said = 200, self.photos[key]["image"]
            case "DELETE", ["walkdown", "api", "drafts", "d-1", "photos", key]:
                self.photos.pop(key, None)
                said = 200, {}
            case "POST", ["walkdown", "api", "drafts", "d-1", "verdict"]:
                said = 200, self.verdict
            case "POST", ["walkdown", "api", "drafts", "d-1", "submit"]:
                said = self.submit(body)
        return said

    def submit(self, body: dict) -> tuple[int, dict]:
        if self.submit_faults:
            return 422, {"words": "not yet", "faults": self.submit_faults}
        self.signed.append(body)
        self.status = "submitted"
        return 200, {
            "walkdown_id": "W-1",
            "version": 1,
            **self.verdict,
            "unit_page": "/unit?unit=one",
        }


class FakeServer:
    """The draft behind an address of this machine."""

    def __init__(self) -> None:
        self.draft = FakeDraft()
        owner = self

        class Handler(BaseHTTPRequestHandler):
            def handle_any(self) -> None:
                length = int(self.headers.get("Content-Length") or 0)
                raw = self.rfile.read(length)
                draft = owner.draft
                is_page = not self.path.startswith(API)
                if draft.cut_off and not is_page:
                    self.close_connection = True
                    return
                is_json = "json" in (self.headers.get("Content-Type") or "")
                body = json.loads(raw) if is_json and raw else raw
                draft.asked.append((self.command, self.path, body))
                status, said = draft.answer(self.command, self.path, body)
                if draft.lose_next_answer and self.command != "GET":
                    draft.lose_next_answer = False
                    self.close_connection = True
                    return
                self.reply(status, said)

            def reply(self, status: int, said: object) -> None:
                if isinstance(said, bytes):
                    kind, data = "image/jpeg", said
                elif isinstance(said, str):
                    kind, data = "text/html; charset=utf-8", said.encode()
                else:
                    kind, data = "application/json", json.dumps(said).encode()
                self.send_response(status)
                self.send_header("Content-Type", kind)
                self.send_header("Content-Length", str(len(data)))
                self.end_headers()
                self.wfile.write(data)

            def log_message(self, *_: object) -> None:
                """Say nothing."""

            do_GET = do_PUT = do_POST = do_DELETE = handle_any  # noqa: N815 - asked for by name

        self.server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.server.daemon_threads = True
        self.address = f"http://127.0.0.1:{self.server.server_address[1]}"
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    @property
    def page(self) -> str:
        return f"{self.address}/walkdown/d-1"

    def stop(self) -> None:
        self.server.shutdown()
        self.server.server_close()
