"""Where there is a login, what is signed, accepted or looked at carries who signed in.

Every request that writes is sent with the name of somebody else in each place where a name fits.
"""

import json
from urllib.parse import quote

import pandas as pd
import pytest
from at_the_machine import UNIT, begin, give, today
from pictures_to_send import photo_of
from routes_in_process import API, Routes, forget_stores
from sqlalchemy import select

from dashboard import kept_in_store
from dashboard.walkdown.http_routes import http_routes
from scoring.access.acts import Role
from scoring.access.who_asks import Asker, NotAllowedError, asked_by
from scoring.contract.version import CONTRACT_VERSION
from scoring.entering.answers import answers_of
from scoring.entering.start_correction import start_correction
from scoring.files.route_reading import WRITTEN_BY
from scoring.store.schema import METADATA, RECORDS

ME, EVE = "Ed Fry", "Eve Hart"
ASKER = Asker(ME, frozenset({Role.ENGINEER}), None, "1003")
EVERYWHERE = {"by": EVE, "signed_by": EVE, "released_by": EVE, "accepted_by": EVE, "inspector": EVE}


@pytest.fixture
def routes(sqlite_store, monkeypatch):
    monkeypatch.setenv("MOUNT_RISK_FLEET", sqlite_store.name)
    with asked_by(ASKER):
        yield Routes()
    forget_stores()


def in_days(days):
    return (pd.Timestamp.today() + pd.Timedelta(days=days)).strftime("%Y-%m-%d")


def texts_of(store):
    """Return all that the store holds, table by table, as text."""
    with store.reading() as connection:
        return {
            table.name: str(connection.execute(select(table)).all())
            for table in METADATA.sorted_tables
        }


def json_to(routes, method, path, **sent):
    return routes.ask(method, path, json.dumps({**EVERYWHERE, **sent}).encode())


def test_no_request_writes_the_name_of_another(routes, sqlite_store):
    by = f"?by={quote(EVE)}"
    begun = routes.post_form("/walkdown/new", **EVERYWHERE, unit=UNIT)
    draft_id = begun.headers["location"].removeprefix("/walkdown/")
    draft = f"{API}/{draft_id}"
    visit = {"kind": "periodic", "inspected_on": today(), "inspector": EVE, "guard": "fitted"}
    answers = [
        json_to(routes, "PUT", f"{draft}/answers/{field}", heading=field, value=value)
        for field, value in visit.items()
    ]
    photo = routes.ask("POST", f"{draft}/photos/guard{by}", photo_of("JPEG"))
    photo_id = json.loads(photo.body)["photo_id"]
    accepted = {"check": "guard", "reason": "seen", "until_on": in_days(30), "accepted_on": today()}
    other = routes.post_form("/walkdown/new", **EVERYWHERE, unit=UNIT).headers["location"]
    asked = {
        "POST /walkdown/new": begun,
        "PUT /walkdown/api/drafts/{draft_id}/answers/{field}": answers[0],
        "POST /walkdown/api/drafts/{draft_id}/photos/{check}": photo,
        "DELETE /walkdown/api/drafts/{draft_id}/photos/{photo_id}": routes.ask(
            "DELETE", f"{draft}/photos/{photo_id}{by}"
        ),
        "POST /walkdown/api/drafts/{draft_id}/verdict": json_to(routes, "POST", f"{draft}/verdict"),
        "POST /walkdown/api/drafts/{draft_id}/submit": json_to(
            routes, "POST", f"{draft}/submit", told="Foreman"
        ),
        "POST /walkdown/give-up": routes.post_form(
            "/walkdown/give-up", **EVERYWHERE, draft=other.rpartition("/")[2]
        ),
        "POST /walkdown/who": routes.post_form("/walkdown/who", **EVERYWHERE),
        "POST /reading": routes.post_form("/reading", **EVERYWHERE, language="en"),
        "POST /enter/{table}": routes.post_form(
            "/enter/accepted", **EVERYWHERE, **accepted, unit=UNIT, key="A-1"
        ),
        "POST /enter/release": routes.post_form(
            "/enter/release", **EVERYWHERE, unit=UNIT, reason="guard fitted"
        ),
    }
    writing = {
        f"{method} {route.path}"
        for route in http_routes()
        for method in route.methods - {"GET", "HEAD"}
    }
    assert set(asked) == writing
    refused = {what: answer.text for what, answer in asked.items() if answer.code >= 400}
    assert refused == {}
    assert [answer.code for answer in answers] == [200] * len(visit)
    texts = texts_of(sqlite_store)
    assert [name for name, text in texts.items() if EVE in text] == []
    for name in ("walkdowns", "accepted", "releases", "sign_offs", "drafts", "draft_answers"):
        assert ME in texts[name], name


def test_a_form_asks_for_no_name_that_it_knows(routes):
    for path in ("/enter/accepted", "/enter/rework", "/enter/release", "/walkdown/new"):
        page = routes.ask("GET", f"{path}?unit={UNIT}")
        assert page.code == 200, path
        for name in EVERYWHERE:
            assert f'name="{name}"' not in page.text, (path, name)


def test_a_correction_leaves_who_looked_and_takes_nobody_else(sqlite_store):
    walkdowns = RECORDS["walkdowns"].c
    with sqlite_store.reading() as connection:
        found = select(walkdowns.walkdown_id, walkdowns.inspector).where(
            walkdowns.inspector.is_not(None), walkdowns.inspector != ME
        )
        walkdown_id, looked = connection.execute(found.limit(1)).one()
    with asked_by(ASKER):
        with sqlite_store.writing(ME) as writing:
            draft_id = start_correction(writing, walkdown_id)
        for said, kept in ((looked, looked), (EVE, ME), (looked, ME)):
            give(sqlite_store, draft_id, "inspector", said, base=1, by=ME)
            with sqlite_store.reading() as connection:
                answer = answers_of(connection, draft_id)["inspector"].answer
            assert answer.value == kept


def test_without_a_login_a_name_is_what_was_typed(sqlite_store):
    draft_id = begin(sqlite_store)
    give(sqlite_store, draft_id, "inspector", EVE)
    with sqlite_store.reading() as connection:
        assert answers_of(connection, draft_id)["inspector"].answer.value == EVE


def a_filled_form(folder, looked, signed):
    """Write what the form without a network saves."""
    said = {"kind": "periodic", "inspected_on": today(), "inspector": looked, "guard": "fitted"}
    walkdown = {
        "walkdown_id": "W-FORM-1",
        "unit_id": UNIT,
        "finished": True,
        "answers": [
            {"field": field, "heading": field, "value": value, "reason": ""}
            for field, value in said.items()
        ],
        "photos": [],
        "signed_by": signed,
        "signed_at": f"{today()}T15:00:00",
        "told": "",
        "recorded_at": f"{today()}T00:00:00",
    }
    content = {
        "written_by": WRITTEN_BY,
        "contract": CONTRACT_VERSION,
        "route": "north",
        "saved_at": f"{today()}T15:01:00",
        "walkdowns": [walkdown],
    }
    file = folder / "route.json"
    file.write_text(json.dumps(content), encoding="utf-8")
    return file.read_bytes()


@pytest.mark.parametrize(
    ("looked", "signed", "told"),
    [(EVE, ME, f"looked at by {EVE}"), (ME, EVE, f"signed by {EVE}"), (ME, ME, "")],
)
@pytest.mark.usefixtures("routes")
def test_what_was_filled_in_elsewhere_is_taken_in_by_who_did_it(tmp_path, looked, signed, told):
    content = a_filled_form(tmp_path, looked, signed)
    if not told:
        assert kept_in_store.take_back("route.json", content, ME)
        return
    with pytest.raises(NotAllowedError, match=told):
        kept_in_store.take_back("route.json", content, ME)
