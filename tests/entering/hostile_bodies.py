"""Bodies that lie, do not end, or hold what nobody could have meant."""

import json
from collections.abc import Iterator

from hostile_requests import API, NO, SHOWN, Hostile, Target, request


def bodies(at: Target) -> Iterator[Hostile]:
    """Send bodies that lie, do not end, or hold what nobody could have meant."""
    draft = f"{API}/{at.draft_id}"
    told = {"Host": at.host, "Content-Type": "application/json"}
    answers = f"{draft}/answers/guard"
    deep = b'{"value":' * 50_000 + b"1" + b"}" * 50_000
    for name, body in (
        ("deep lists", b"[" * 100_000 + b"]" * 100_000),
        ("deep objects", deep),
        ("cut", b'{"value": "x'),
        ("no object", b'["a"]'),
        ("no UTF-8", b'{"by": "\xff\xfe", "value": "x"}'),
        ("half a pair", b'{"by": "\\ud800", "value": "x"}'),
        ("a zero", b'{"by": "a\\u0000b", "value": "x"}'),
        ("a number for a name", b'{"by": 7, "value": "x"}'),
        ("a list for a name", b'{"by": ["Ben"], "value": "x"}'),
        ("a huge number", b'{"by": "B", "base_revision": ' + b"9" * 100_000 + b"}"),
        ("no number", b'{"by": "B", "value": "x", "base_revision": NaN}'),
        ("nobody", b'{"value": "missing"}'),
        ("blanks for a name", b'{"by": "  ", "value": "missing"}'),
        ("a name of 10,000 letters", json.dumps({"by": "a" * 10_000, "value": "x"}).encode()),
        ("a value of 100,000 letters", json.dumps({"by": "B", "value": "a" * 100_000}).encode()),
        ("900,000 keys", b"{" + b",".join(b'"%d":1' % n for n in range(80_000)) + b"}"),
        ("2 MB", b'{"by": "' + b"a" * 1_999_000 + b'"}'),
        ("5 MB", b'{"by": "' + b"a" * 5_000_000 + b'"}'),
        ("nothing", b""),
    ):
        yield Hostile("bodies", f"JSON, {name}", request("PUT", answers, told, body))
        yield Hostile(
            "bodies", f"signature, {name}", request("POST", f"{draft}/submit", told, body)
        )
    plain = {"Host": at.host, "Content-Type": "application/x-www-form-urlencoded"}
    for name, body in (
        ("10,000 fields", b"&".join(b"f%d=1" % n for n in range(10_000))),
        ("no UTF-8", b"unit=%ff%fe&by=%ff"),
        ("zeros", b"unit=a%00b&by=Ben"),
        ("a unit of 30,000 letters", b"by=Ben&unit=" + b"a" * 30_000),
        ("SQL", b"by=Ben&unit='%3B DROP TABLE units%3B --"),
        ("5 MB", b"by=" + b"a" * 5_000_000),
    ):
        for path in ("/walkdown/new", "/enter/release", "/enter/events"):
            again = frozenset({200}) if path == "/enter/events" else frozenset()
            yield Hostile(
                "bodies", f"form {path}, {name}", request("POST", path, plain, body), NO | again
            )
    host = f"Host: {at.host}\r\nConnection: close\r\n"
    ask = f"PUT {answers} HTTP/1.1\r\n{host}"
    for name, text in (
        ("two lengths", "Content-Length: 5\r\nContent-Length: 6\r\n\r\n{}{}{}"),
        ("length and pieces", "Content-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n"),
        ("a negative length", "Content-Length: -5\r\n\r\n{}"),
        ("no number", "Content-Length: five\r\n\r\n{}"),
        ("a length beyond all", f"Content-Length: {'9' * 30}\r\n\r\n{{}}"),
        ("pieces of junk", "Transfer-Encoding: chunked\r\n\r\nzz\r\n{}\r\n0\r\n\r\n"),
        ("a piece beyond all", "Transfer-Encoding: chunked\r\n\r\nffffffffffffffff\r\n{}\r\n"),
        ("a negative piece", "Transfer-Encoding: chunked\r\n\r\n-2\r\n{}\r\n0\r\n\r\n"),
        (
            "an extension of 100 kB",
            f"Transfer-Encoding: chunked\r\n\r\n2;{'x' * 100_000}\r\n{{}}\r\n",
        ),
        ("two encodings", "Transfer-Encoding: gzip, chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n"),
        ("unknown encoding", "Transfer-Encoding: cow\r\n\r\n{}"),
        ("a second request hidden", "Content-Length: 2\r\n\r\n{}GET /walkdown HTTP/1.1\r\n\r\n"),
    ):
        yield Hostile("bodies", name, (ask + text).encode())
    yield Hostile(
        "bodies", "no HTTP", b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + b"\0" * 300
    )
    yield Hostile("bodies", "an older HTTP", b"GET /walkdown\r\n\r\n")
    yield Hostile(
        "bodies", "HTTP of the future", f"GET / HTTP/9.9\r\n{host}\r\n".encode(), NO | SHOWN
    )
    yield Hostile("bodies", "HTTP/2", b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n")
