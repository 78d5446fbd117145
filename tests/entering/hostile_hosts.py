"""Requests under a name that is none of this server's."""

from collections.abc import Iterator

from hostile_requests import API, NO, Hostile, Target, request, websocket, writes


def other_hosts(at: Target) -> tuple[str, ...]:
    """Return names that are none of this server's."""
    return (
        "evil.example",
        f"evil.example:{at.port}",
        f"localhost.evil.example:{at.port}",
        f"127.0.0.1.evil.example:{at.port}",
        f"evil.example@127.0.0.1:{at.port}",
        f"127.0.0.1:{at.port}@evil.example",
        f"127.0.0.1:{at.port}, evil.example",
        f"0.0.0.0:{at.port}",
        f"0:{at.port}",
        f"2130706433:{at.port}",
        f"0x7f000001:{at.port}",
        f"0177.0.0.1:{at.port}",
        f"127.1:{at.port}",
        f"[::]:{at.port}",
        f"[::ffff:127.0.0.1]:{at.port}",
        f"127.0.0.1:{at.port}/x",
        f"127.0.0.1#:{at.port}",
        "127.0.0.1:99999999",
        f"lоcalhost:{at.port}",  # a letter that only looks alike
        f"169.254.169.254:{at.port}",
        f"10.0.0.5:{at.port}",
        f"localhost.:{at.port}",
        "",
    )


def wrong_host(at: Target) -> Iterator[Hostile]:
    """Ask for pages, files, routes and writes under another name."""
    read = (
        "/",
        "/fix",
        "/_stcore/health",
        "/_stcore/host-config",
        "/walkdown",
        "/today",
        "/health",
        "/favicon.png",
        f"{API}/{at.draft_id}",
    )
    for host in other_hosts(at):
        for path in read:
            yield Hostile("another name", f"{host} {path}", request("GET", path, {"Host": host}))
        for name, sent in writes(at, Host=host, Origin=f"http://{host}"):
            yield Hostile("another name", f"{host} {name}", sent)
        yield Hostile("another name", f"{host} websocket", websocket(host, Origin=f"http://{host}"))
    two = f"GET / HTTP/1.1\r\nHost: {at.host}\r\nHost: evil.example\r\nConnection: close\r\n\r\n"
    none = "GET / HTTP/1.1\r\nConnection: close\r\n\r\n"
    old = "GET /walkdown HTTP/1.0\r\n\r\n"
    for name, text in (("twice", two), ("none", none), ("none, HTTP/1.0", old)):
        yield Hostile("another name", name, text.encode())
    for path in ("http://evil.example/", f"http://{at.host}/walkdown", "//evil.example/", "*"):
        yield Hostile("another name", f"target {path}", request("GET", path, {"Host": at.host}), NO)
