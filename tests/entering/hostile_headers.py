"""Headers and cookies that are too many, too long, or not what they seem."""

from collections.abc import Iterator

from hostile_requests import NO, SHOWN, Hostile, Target, request


def headers(at: Target) -> Iterator[Hostile]:
    """Send headers that are too many, too long, or not what they seem."""
    host = {"Host": at.host}
    many = {**host, **{f"X-{number}": "v" * 40 for number in range(3_000)}}
    yield Hostile("headers", "3,000 of them", request("GET", "/walkdown", many))
    yield Hostile(
        "headers", "one of 1 MB", request("GET", "/walkdown", {**host, "X-Long": "v" * 1_000_000})
    )
    yield Hostile(
        "headers", "a cookie of 1 MB", request("GET", "/", {**host, "Cookie": "v" * 10**6})
    )
    harmless = NO | SHOWN
    for name, cookie in (
        ("no cookie at all", ";;;===;;"),
        ("a name of zeros", "person=%00%00"),
        ("a name of lines", "person=a%0d%0aSet-Cookie:x"),
        ("no UTF-8", "person=%ff%fe; language=%ff"),
        ("unknown choices", "language=../../x; numbers=<b>; measures=%00"),
        ("a long name", f"person={'a' * 5_000}"),
        ("1,000 cookies", "; ".join(f"c{number}=1" for number in range(1_000))),
        ("a walk of junk", "walk=%25%25%25&&&===; here=not a time not a time"),
        ("a time far away", "here=9999-99-99 -1; walk=site=%FF"),
        ("a session of junk", "_streamlit_session=AAAA.BBBB; _streamlit_xsrf=2|x|y|z"),
    ):
        for path in ("/", "/today", "/walkdown"):
            sent = request("GET", path, {**host, "Cookie": cookie})
            yield Hostile("cookies", f"{name} {path}", sent, harmless)
    for name, text in (
        ("a folded header", "X-A: b\r\n folded: c"),
        ("a bare line feed", "X-A: b\nHost: evil.example"),
        ("a zero", "X-A: b\x00c"),
        ("a blank before the colon", "Transfer-Encoding : chunked"),
        ("no colon", "nonsense"),
        ("Latin-1", "X-A: \xff"),
    ):
        sent = f"GET /walkdown HTTP/1.1\r\nHost: {at.host}\r\n{text}\r\nConnection: close\r\n\r\n"
        yield Hostile("headers", name, sent.encode("latin-1"), harmless)
    for name, said in (
        ("X-Forwarded-Host", "evil.example"),
        ("X-Forwarded-For", "10.0.0.1"),
        ("Forwarded", "host=evil.example"),
        ("X-Original-URL", "/enter/release"),
        ("X-Rewrite-URL", "/enter/release"),
        ("Accept-Language", "de," * 2_000),
        ("Accept-Language", "\x01\x02"),
        ("Range", "bytes=0-,0-,0-,0-"),
        ("If-None-Match", '"' + "a" * 5_000),
        ("Expect", "200-maybe"),
    ):
        yield Hostile(
            "headers",
            f"{name}: {said[:20]}",
            request("GET", "/today", {**host, name: said}),
            harmless,
        )
