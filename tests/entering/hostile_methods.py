"""Methods that nobody here needs."""

from collections.abc import Iterator

from hostile_requests import API, Hostile, Target, request


def methods(at: Target) -> Iterator[Hostile]:
    """Use methods that nobody here needs, or a known one where it does not belong."""
    for method in (
        "TRACE",
        "CONNECT",
        "PATCH",
        "PROPFIND",
        "MOVE",
        "get",
        "GETT",
        "DEBUG",
        "PURGE",
        "A" * 3_000,
    ):
        for path in ("/", "/walkdown", f"{API}/{at.draft_id}/submit"):
            sent = request(method, path, {"Host": at.host})
            yield Hostile("methods", f"{method[:12]} {path}", sent)
    override = {"Host": at.host, "X-HTTP-Method-Override": "DELETE", "X-Method": "POST"}
    yield Hostile("methods", "override", request("GET", f"{API}/{at.draft_id}/photos/x", override))
    for path in ("/", "/fix", "/static/x.js", "/media/x", "/health", "/walkdown/who/x"):
        for method in ("POST", "PUT", "DELETE"):
            yield Hostile(
                "methods", f"{method} {path}", request(method, path, {"Host": at.host}, b"x=1")
            )
