"""Every address that the server answers, asked for directly by everybody: none lets in too many.

The addresses are the server's own list: one more without a line below fails.
"""

import json
import os
import re
import subprocess
import sys
from contextlib import closing
from pathlib import Path
from urllib.parse import quote

import pytest
from at_the_machine import begin, today
from signed_in import Pages, environment, grant_all, provider, withdraw_from
from stored_port import fill_with_port
from test_tampering import a_photo

from scoring.entering.drafts import find_draft
from scoring.entering.photos import keep_photo
from scoring.store.open_store import open_store

pytestmark = pytest.mark.slow

UNIT, SITE, ELSEWHERE = "RS-003", "Rail shed", "North quay"
DI = "Di Eck"

PEOPLE = (
    (DI, "1002", "inspector", [SITE]),
    ("Ed Fry", "1003", "engineer", [SITE]),
    ("Flo Gold", "1004", "manager", [SITE]),
    ("Gus Hain", "1005", "inspector engineer manager", [ELSEWHERE]),
    ("Hed Ilk", "1006", "engineer", [SITE]),
)
SUBJECTS = {
    "inspector": "1002",
    "engineer": "1003",
    "manager": "1004",
    "elsewhere": "1005",
    "withdrawn": "1006",
    "administrator": "1001",
    "no role": "1009",
}
NOT_KNOWN = ("nobody", "forged", "altered", "of another server")
"""Who has no session here: 401, whatever they ask for."""

ALL, WALKERS = {"inspector", "engineer", "manager"}, {"inspector", "engineer"}
SEEING = ALL | {"elsewhere"}
ANYBODY = SEEING | {"administrator"}
FORM = {"Content-Type": "application/x-www-form-urlencoded"}

UNIT_OF = f"unit={UNIT}"
ENTERED = f"unit={UNIT}&key=R-{{n}}&done_on={today()}&actions=fit_guard"
DRAFT = "/walkdown/api/drafts/{draft}"
ROUTES = {
    # what: address, what is sent, who may
    "GET /walkdown/api/drafts/{draft_id}": (DRAFT, None, {"inspector"}),
    "PUT /walkdown/api/drafts/{draft_id}/answers/{field}": (
        f"{DRAFT}/answers/guard",
        '{"heading": "guard", "value": "fitted", "by": "Eve Hart", "client": "c"}',
        {"inspector"},
    ),
    "POST /walkdown/api/drafts/{draft_id}/photos/{check}": (
        f"{DRAFT}/photos/guard?by=Eve%20Hart",
        "no photo",
        {"inspector"},
    ),
    "GET /walkdown/api/drafts/{draft_id}/photos/{photo_id}": (
        f"{DRAFT}/photos/{{photo}}",
        None,
        {"inspector"},
    ),
    "DELETE /walkdown/api/drafts/{draft_id}/photos/{photo_id}": (
        f"{DRAFT}/photos/none?by=Eve%20Hart",
        None,
        {"inspector"},
    ),
    "POST /walkdown/api/drafts/{draft_id}/verdict": (f"{DRAFT}/verdict", "{}", {"inspector"}),
    "POST /walkdown/api/drafts/{draft_id}/submit": (
        f"{DRAFT}/submit",
        '{"signed_by": "Eve Hart", "told": "Foreman", "reason": ""}',
        {"inspector"},
    ),
    "GET /today": ("/today", None, SEEING),
    "GET /walkdown": (f"/walkdown?search={UNIT}", None, WALKERS | {"elsewhere"}),
    "GET /walkdown/new": (f"/walkdown/new?{UNIT_OF}", None, WALKERS),
    "POST /walkdown/new": ("/walkdown/new", f"{UNIT_OF}&by=Eve", WALKERS),
    "POST /walkdown/give-up": ("/walkdown/give-up", "draft={second}&by=Eve", {"engineer"}),
    "GET /walkdown/who": ("/walkdown/who", None, SEEING),
    "POST /walkdown/who": ("/walkdown/who", "to=today&by=Eve", SEEING),
    "GET /reading": ("/reading", None, SEEING),
    "POST /reading": ("/reading", "language=en", SEEING),
    "GET /walkdown/{draft_id}": ("/walkdown/{draft}", None, {"inspector"}),
    "GET /sheet/blank": (f"/sheet/blank?{UNIT_OF}", None, ALL),
    "GET /sheet/filled": (f"/sheet/filled?{UNIT_OF}", None, ALL),
    "GET /sheet/label": (f"/sheet/label?{UNIT_OF}", None, ALL),
    "GET /enter/release": (f"/enter/release?{UNIT_OF}", None, {"engineer", "manager"}),
    "POST /enter/release": (
        "/enter/release",
        f"{UNIT_OF}&by=Eve&reason=guard+fitted",
        {"engineer", "manager"},
    ),
    "GET /enter/{table}": (f"/enter/rework?{UNIT_OF}", None, {"engineer"}),
    "POST /enter/{table}": ("/enter/rework", f"{ENTERED}&by=Eve", {"engineer"}),
    "PAGE /start": ("/start", None, SEEING),
    "PAGE /fix": ("/fix", None, SEEING),
    "PAGE /plan": ("/plan", None, {"engineer", "manager", "elsewhere"}),
    "PAGE /look": ("/look", None, SEEING),
    "PAGE /unit": (f"/unit?{UNIT_OF}", None, SEEING),
    "PAGE /walkdowns": ("/walkdowns", None, SEEING),
    "PAGE /bring": ("/bring", None, {"engineer", "elsewhere"}),
    "PAGE /trend": ("/trend", None, {"engineer", "manager", "elsewhere"}),
    "PAGE /trust": ("/trust", None, SEEING),
    # the framework's own: files of pages are for whose page made them, and nobody has one here
    "GET /media/{file_id:path}": ("/media/0123.csv", None, set()),
    "PUT /_stcore/upload_file/{session_id}/{file_id}": (
        "/_stcore/upload_file/a/b",
        "x",
        set(),
    ),
    "DELETE /_stcore/upload_file/{session_id}/{file_id}": ("/_stcore/upload_file/a/b", None, set()),
    "ANY ": ("/index.html", None, ANYBODY),
    "GET /_stcore/host-config": ("/_stcore/host-config", None, ANYBODY),
    "ANY /_stcore/stream": ("/_stcore/stream", None, ANYBODY),
    "GET /_stcore/bidi-components/{path:path}": ("/_stcore/bidi-components/x", None, ANYBODY),
    "GET /component/{path:path}": ("/component/x", None, ANYBODY),
    "GET /auth/login": ("/auth/login", None, ANYBODY),
    "GET /auth/logout": ("/auth/logout", None, ANYBODY),
    "GET /oauth2callback": ("/oauth2callback", None, ANYBODY),
}
AS_THEIR_PARTS = {
    f"ANY /{begin}{rest}"
    for begin in ("today", "walkdown", "reading", "sheet", "enter")
    for rest in ("", "/{rest:path}")
}
"""Each of these is answered by the routes above that begin so; others are unknown to them."""

TO_ANYBODY = {
    "GET /_stcore/health",
    "GET /health",
    "GET /sign-in",
    "GET /sign-in/back",
    "GET /sign-out",
    "POST /sign-out",
    "GET /signed-out",
}
CLOSED = {
    "GET /_stcore/metrics",
    *(
        f"{method} /_stcore/agent/{name}"
        for method in ("GET", "POST", "PUT", "PATCH", "DELETE")
        for name in ("interact", "mcp", "openapi.json")
    ),
}
"""Answered to nobody at all; their own test is that of hostile requests."""


@pytest.fixture(scope="module")
def plant(tmp_path_factory):
    """Serve a plant of three sites; the inspector began one walkdown, somebody else another."""
    folder = tmp_path_factory.mktemp("guarded")
    url = f"sqlite:///{folder / 'port.db'}"
    with closing(open_store(url, make=True)) as store:
        fill_with_port(store)
        entered = {"draft": begin(store, UNIT, DI), "second": begin(store, UNIT, "Ben Meier")}
        with store.writing(DI) as writing:
            walkdown_id = find_draft(writing.connection, entered["draft"]).walkdown_id
            entered["photo"] = keep_photo(
                writing,
                walkdown_id,
                "guard",
                a_photo(),
                draft_id=entered["draft"],
                unit_id=UNIT,
            )
    with provider() as login:
        grant_all(url, login.issuer, PEOPLE)
        pages = Pages(url, login.issuer, folder / "log.txt")
        try:
            people = {name: pages.sign_in(subject) for name, subject in SUBJECTS.items()}
            withdraw_from(url, login.issuer, SUBJECTS["withdrawn"])
            kept = people["inspector"]["Cookie"]
            people["nobody"] = {}
            people["forged"] = {"Cookie": "mount_risk_session=abc.def.ghi"}
            people["altered"] = {"Cookie": kept[:-2] + ("A" if kept[-2] != "A" else "B") + kept[-1]}
            name, _, value = kept.partition("=")
            people["of another server"] = {"Cookie": f"{name}={value.split('.')[0]}.x.y"}
            yield Plant(url, pages, people, entered, login.issuer)
        finally:
            pages.stop()
    said = (folder / "log.txt").read_text()
    assert "Traceback" not in said, said


class Plant:
    def __init__(self, url, pages, people, entered, issuer):
        self.url, self.pages, self.people = url, pages, people
        self.entered, self.issuer = entered, issuer

    def ask(self, what, who, number):
        path, sent, _ = ROUTES[what]
        method = what.split()[0].replace("PAGE", "GET").replace("ANY", "GET")
        names = {**{k: quote(v) for k, v in self.entered.items()}, "n": str(number)}
        is_json = sent is not None and sent.startswith("{") and sent.rstrip().endswith("}")
        body = None if sent is None else (sent if is_json else sent.format(**names)).encode()
        headers = {**self.people[who], "Accept": "*/*", "Origin": self.pages.url}
        headers |= FORM if body is not None and not is_json else {}
        return self.pages.ask(method, path.format(**names), body, headers)

    def lines(self):
        with closing(open_store(self.url)) as store, store.reading() as connection:
            query = "SELECT count(*) FROM history WHERE about <> 'people'"
            return connection.exec_driver_sql(query).scalar()


def test_every_address_of_the_server_is_asked_for(plant):
    known = {**os.environ, **environment(plant.issuer, plant.pages.url), "MOUNT_RISK_LOGIN": "yes"}
    script = Path(__file__).parents[1] / "running" / "routes_there_are.py"
    done = subprocess.run(
        [sys.executable, "-W", "ignore", str(script)],
        env=known,
        capture_output=True,
        text=True,
        check=True,
    )
    there = set(json.loads(done.stdout))
    assert there == set(ROUTES) | AS_THEIR_PARTS | TO_ANYBODY | CLOSED


REFUSED = {401, 403, 404}
MAY_BE_UNKNOWN = {
    "GET /_stcore/bidi-components/{path:path}",
    "GET /component/{path:path}",
    "ANY /_stcore/stream",
    "GET /auth/login",
    "GET /auth/logout",
    "GET /oauth2callback",
}
"""Let in, and then answered that there is nothing of that name, or no connection."""

LAST = ("POST /walkdown/api/drafts/{draft_id}/submit", "POST /walkdown/give-up")
"""What ends a walkdown that others ask for is asked for in the end."""


def test_every_address_lets_in_whom_it_may_and_nobody_else(plant):
    tried = let_in = 0
    in_order = sorted(ROUTES, key=lambda what: (what in LAST, what))
    for number, what in enumerate(in_order):
        _, _, may = ROUTES[what]
        for who in sorted([*SUBJECTS, *NOT_KNOWN], key=lambda who: (who in may, who)):
            before = plant.lines()
            answer = plant.ask(what, who, f"{number}{who.replace(' ', '')}")
            tried += 1
            told = (what, who, answer.code, answer.text[:200])
            if who in may:
                let_in += 1
                assert what in MAY_BE_UNKNOWN or answer.code not in REFUSED, told
                continue
            assert answer.code in REFUSED, told
            assert (answer.code == 401) == (who in NOT_KNOWN), told
            assert plant.lines() == before, told
            words = re.sub(r"<style.*?</style>|<[^>]+>", " ", answer.text, flags=re.DOTALL)
            assert SITE not in words, told
            assert "RS-0" not in words.replace(UNIT, ""), told  # but what was asked for
    assert tried == len(ROUTES) * (len(SUBJECTS) + len(NOT_KNOWN))
    assert 0 < let_in < tried


def test_lists_of_another_site_are_not_told(plant):
    for path in ("/today?all=1", "/walkdown", "/walkdown?search=RS-0", "/walkdown?site=Rail+shed"):
        answer = plant.pages.ask("GET", path, headers=plant.people["elsewhere"])
        assert answer.code == 200
        assert "RS-0" not in answer.text.replace('value="RS-0"', "")
        assert SITE not in answer.text


def test_what_was_signed_is_signed_by_who_signed_in(plant):
    with closing(open_store(plant.url)) as store, store.reading() as connection:
        rows = connection.exec_driver_sql(
            "SELECT name FROM people WHERE name LIKE 'Eve%'"
        ).fetchall()
        releases = connection.exec_driver_sql("SELECT released_by FROM releases").fetchall()
    assert rows == []
    assert {row[0] for row in releases} <= {"Ed Fry", "Flo Gold"}
    assert releases


def test_an_address_that_is_none_is_as_closed(plant):
    for path in ("/nothing", "/trend/x", "/walkdown/api/other", "/enter/../media/x", "//trend"):
        answer = plant.pages.ask("GET", path, headers={"Accept": "*/*"})
        assert answer.code in REFUSED, (path, answer.code)


def test_health_is_told_to_anybody_and_tells_nothing(plant):
    assert plant.pages.ask("GET", "/_stcore/health").text == "ok"


@pytest.mark.parametrize("who", ["nobody", "forged", "no role", "withdrawn"])
def test_no_connection_stays_open_for_who_has_no_role(plant, who):
    headers = {
        **plant.people[who],
        "Connection": "Upgrade",
        "Upgrade": "websocket",
        "Sec-WebSocket-Version": "13",
        "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
        "Origin": plant.pages.url,
    }
    assert plant.pages.ask("GET", "/_stcore/stream", headers=headers).code == 403
    del headers["Origin"]
    assert plant.pages.ask("GET", "/_stcore/stream", headers=headers).code == 403
