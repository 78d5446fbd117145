"""Requests that nobody means well by: none is let in, nothing is lost, and the server goes on.

``pytest tests/entering/test_hostile_requests.py -m "long or not long" -s`` tries all of them, and
prints how many of each kind there were.
"""

import pytest
from hostile_kinds import KINDS, let_in, rows_of
from hostile_requests import Target, code_of, websocket, writes
from over_http import API, Server


@pytest.fixture(scope="module")
def served(store_url, tmp_path_factory):
    started = Server(store_url, tmp_path_factory.mktemp("hostile") / "log.txt")
    yield started
    started.stop()


@pytest.fixture(scope="module")
def target(served, units_without_hold):
    unit_id = units_without_hold[0]
    draft_id = served.begin(unit_id)
    served.answer_visit(draft_id)
    return Target(served.port, draft_id, unit_id)


SAMPLE = 20
"""So many of each kind in the ordinary run."""


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_some_of_each_kind_are_not_let_in_and_nothing_is_lost(kind, target, served, store_url):
    all_of_them = list(kind(target))
    every = max(1, len(all_of_them) // SAMPLE)
    _none_is_let_in(all_of_them[::every], target, served, store_url)


@pytest.mark.long
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_none_is_let_in_and_nothing_is_lost(kind, target, served, store_url, request):
    tried = _none_is_let_in(kind(target), target, served, store_url)
    print(request.node.callspec.id, dict(tried))  # noqa: T201 - the table


def _none_is_let_in(requests, target, served, store_url):
    before = rows_of(store_url)
    wrong, tried = let_in(requests, target.port)
    assert wrong == []
    assert rows_of(store_url) == before
    assert served.ask("GET", f"{API}/{target.draft_id}").code == 200
    assert "Traceback" not in served.log.read_text()
    return tried


def test_the_same_requests_from_our_own_page_would_have_been_taken(target):
    """Else it would be no wonder that they are refused."""
    own = f"http://{target.host}"
    mine = dict(writes(target, Origin=own))
    for name in ("begin", "who"):
        assert code_of(target.port, mine[name])[0] == 303, name
    for name in ("answer", "photo", "drop"):
        assert code_of(target.port, mine[name])[0] == 200, name
    assert code_of(target.port, websocket(target.host, Origin=own))[0] == 101
    for host in (f"localhost:{target.port}", f"LOCALHOST:{target.port}"):
        assert code_of(target.port, websocket(host, Origin=f"http://{host.lower()}"))[0] == 101


def test_every_answer_carries_the_same_headers(target, served):
    """Pages, files, routes, refusals and what is not there alike."""
    own = {"x-content-type-options": "nosniff", "x-frame-options": "DENY"}
    for path, code in (
        ("/", 200),
        ("/fix", 200),
        ("/favicon.png", 200),
        ("/_stcore/health", 200),
        ("/_stcore/host-config", 200),
        ("/media/none", 404),
        ("/static/none.js", 200),
        ("/today", 200),
        ("/walkdown", 200),
        (f"/walkdown/{target.draft_id}", 200),
        (f"{API}/{target.draft_id}", 200),
        (f"{API}/none", 404),
        (f"/sheet/label?unit={target.unit_id}", 200),
        ("/_stcore/metrics", 404),
    ):
        answer = served.ask("GET", path)
        assert answer.code == code, path
        assert own.items() <= answer.headers.items(), path
        assert answer.headers["referrer-policy"] == "same-origin", path
        policy = answer.headers["content-security-policy"]
        assert "frame-ancestors 'none'" in policy, path
        assert "unsafe-eval" not in policy, path
        scripts = next((p for p in policy.split("; ") if p.startswith("script-src")), "")
        assert "unsafe-inline" not in scripts, path
        if path.startswith(("/today", "/walkdown")):
            assert "unsafe" not in policy, path
        assert "server" not in answer.headers, path
    refused = served.ask("GET", "/", headers={"Host": "evil.example"})
    assert refused.code == 421
    assert own.items() <= refused.headers.items()
    assert refused.body.count(b"\n") == 1
    assert b"--host-name" in refused.body


def test_cookies_are_read_by_no_script_and_sent_from_no_other_site(served):
    named = served.post_form("/walkdown/who", {"to": "", "by": "Zoë"})
    read = served.post_form("/reading", {"language": "de", "to": "/"})
    for answer in (named, read, served.ask("GET", "/today")):
        cookie = answer.headers["set-cookie"]
        assert "HttpOnly" in cookie
        assert "samesite=lax" in cookie.lower()
        assert "Secure" not in cookie
    behind_tls = served.post_form("/walkdown/who", {"by": "Zoë"}, **{"X-Forwarded-Proto": "https"})
    assert "Secure" in behind_tls.headers["set-cookie"]
