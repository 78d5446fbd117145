"""Paths to what lies elsewhere, by every spelling."""

from collections.abc import Iterator

from hostile_requests import API, NO, SHOWN, Hostile, Target, request


def paths(at: Target) -> Iterator[Hostile]:
    """Ask for what lies elsewhere, by every spelling."""
    asked = (
        "/../../etc/passwd",
        "/static/../../../../etc/passwd",
        "/static/%2e%2e/%2e%2e/%2e%2e/etc/passwd",
        "/static/%252e%252e/%252e%252e/etc/passwd",
        "/static/..%2f..%2f..%2fetc%2fpasswd",
        "/static/..%5c..%5cwindows",
        "/static/....//....//etc/passwd",
        "/static/%c0%ae%c0%ae/etc/passwd",
        "/media/../../etc/passwd",
        "/media/%2e%2e%2fetc%2fpasswd",
        "/component/../../etc/passwd",
        "/component/x/%2e%2e/%2e%2e/etc/passwd",
        "/_stcore/bidi-components/x/../../etc/passwd",
        "//etc/passwd",
        "/%2fetc/passwd",
        "/\\\\evil\\share",
        "/walkdown/..%2f..%2fetc%2fpasswd",
        "/walkdown/%00",
        "/walkdown/a%00b",
        "/%00",
        "/walkdown/%0d%0aSet-Cookie:%20x=1",
        "/walkdown/%ff%fe",
        "/walkdown/" + "a" * 9_000,
        "/walkdown/new?unit=" + "a" * 60_000,
        "/walkdown/new?unit=%0d%0aX-Evil:%201",
        "/walkdown/new?unit=%00",
        "/walkdown/new?unit=%ff",
        "/walkdown/new?unit=../../etc/passwd",
        "/sheet/filled?walkdown=' OR 1=1 --",
        "/sheet/filled?walkdown=%27%20OR%201%3D1%20--",
        "/sheet/blank?unit=<script>",
        "/enter/units",
        "/enter/history",
        "/enter/../enter/release",
        "/_stcore/agent/openapi.json",
        "/_stcore/agent/mcp",
        "/_stcore/metrics",
        "/_stcore/script-health-check",
        "/.git/config",
        "/server.py",
        "/quarry.db",
        "/walkdown?search=" + "%25" * 2_900,
    )
    for path in asked:
        yield Hostile("paths", path[:60], request("GET", path, {"Host": at.host}), NO | SHOWN)
    for path in (f"{API}/..%2f{at.draft_id}", f"{API}/{at.draft_id}%00", f"{API}/%2e%2e"):
        yield Hostile("paths", path, request("GET", path, {"Host": at.host}))
