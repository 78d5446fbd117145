"""What a request that nobody means well by is, where it is sent, and what it may be answered.

A line is a kind, a name, the bytes, and the codes that are a refusal; 0 stands for hanging up.
"""

import json
import socket
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass

from pictures_to_send import photo_of

API = "/walkdown/api/drafts"


NO = frozenset({0, 400, 403, 404, 405, 408, 410, 411, 413, 414, 421, 422, 426, 431, 501, 505})
"""Every way in which a request may be refused."""


SHOWN = frozenset({200, 301, 302, 303, 304, 307, 308})
"""What a harmless reading may be answered besides."""


@dataclass(frozen=True)
class Hostile:
    """One request, and what it may be answered."""

    kind: str
    name: str
    sent: bytes
    allowed: frozenset[int] = NO


@dataclass(frozen=True)
class Target:
    """Where they are sent: a server, and a walkdown that was begun there."""

    port: int
    draft_id: str
    unit_id: str

    @property
    def host(self) -> str:
        return f"127.0.0.1:{self.port}"


def request(
    method: str, path: str, headers: dict[str, str], body: bytes = b"", *, length: bool = True
) -> bytes:
    """Write a request."""
    if body and length:
        headers = {"Content-Length": str(len(body)), **headers}
    lines = [f"{method} {path} HTTP/1.1", *(f"{name}: {said}" for name, said in headers.items())]
    return "\r\n".join([*lines, "Connection: close", "", ""]).encode("utf-8") + body


def writes(at: Target, **headers: str) -> Iterator[tuple[str, bytes]]:
    """Write one of each request that changes something, whole but for its headers."""
    headers = {"Host": at.host, "Cookie": "person=Ben%20Meier", **headers}
    plain = {**headers, "Content-Type": "application/x-www-form-urlencoded"}
    told = {**headers, "Content-Type": "application/json"}
    answer = {"heading": "guard", "value": "missing", "by": "Ben Meier", "base_revision": 0}
    signed = {"signed_by": "Ben Meier", "told": "Foreman"}
    draft = f"{API}/{at.draft_id}"
    begun = f"unit={at.unit_id}&by=Ben".encode()
    yield "begin", request("POST", "/walkdown/new", plain, begun)
    yield "answer", request("PUT", f"{draft}/answers/guard", told, json.dumps(answer).encode())
    yield "photo", request("POST", f"{draft}/photos/guard?by=Ben", headers, photo_of("JPEG"))
    yield "drop", request("DELETE", f"{draft}/photos/x?by=Ben", headers)
    yield "sign", request("POST", f"{draft}/submit", told, json.dumps(signed).encode())
    yield "release", request("POST", "/enter/release", plain, begun + b"&reason=x&key=k")
    yield "record", request("POST", "/enter/events", plain, begun + b"&key=k")
    yield "give up", request("POST", "/walkdown/give-up", plain, f"draft={at.draft_id}".encode())
    yield "who", request("POST", "/walkdown/who", plain, b"by=Mallory")


def websocket(host: str, **headers: str) -> bytes:
    """Ask for a connection that stays open."""
    headers = {
        "Host": host,
        "Upgrade": "websocket",
        "Connection": "Upgrade",
        "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
        "Sec-WebSocket-Version": "13",
        **headers,
    }
    lines = [f"{name}: {said}" for name, said in headers.items()]
    return "\r\n".join(["GET /_stcore/stream HTTP/1.1", *lines, "", ""]).encode("utf-8")


def code_of(port: int, sent: bytes, patience_s: float = 60) -> tuple[int, bytes]:
    """Send bytes, and return the code of the first answer and all that came; 0 for hanging up."""
    with socket.create_connection(("127.0.0.1", port), patience_s) as connection:
        came = b""
        with suppress(OSError):  # it may have hung up already; what it said is read
            connection.sendall(sent)
        with suppress(OSError):
            while not came.startswith(b"HTTP/1.1 101"):
                more = connection.recv(65_536)
                if not more:
                    break
                came += more
    return (int(came[9:12]) if came.startswith(b"HTTP/1") else 0), came
