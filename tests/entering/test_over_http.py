"""Every route of a real server: what it answers, and what it says when it cannot."""

import io
import re
import shutil
from html import unescape
from urllib.parse import parse_qs, quote, urlencode, urlsplit

import pytest
from over_http import API, Server, data_of
from PIL import Image

from scoring.contract import UNITS
from scoring.store.open_store import open_store
from scoring.store.put_records import put_records
from scoring.store.stored_values import stored_rows

HOSTILE = (
    "</script><b>x",
    'it\'s "quoted"',
    "a/b\\c",
    "two  words",
    "what?",
    "50% #1 & 2+2=4",
    "Müllerstraße",
    "🪨 crusher",
    "<!-- -->",
    "../../etc",
    "{{ unit_id }}",
    "new",
)


@pytest.fixture(scope="module")
def server(quarry_file, quarry, tmp_path_factory):
    folder = tmp_path_factory.mktemp("served")
    shutil.copy(quarry_file, folder / "quarry.db")
    address = f"sqlite:///{folder / 'quarry.db'}"
    store = open_store(address)
    first = stored_rows(quarry.units.head(1), UNITS)[0]
    names = ("site", "line", "driven_equipment", "asset_id")
    rows = [{**first, "unit_id": name, **dict.fromkeys(names, name)} for name in HOSTILE]
    with store.writing("Ann Load") as writing:
        put_records(writing, "units", rows, "hostile names")
    store.close()
    started = Server(address, folder / "log.txt")
    yield started
    started.stop()
    said = started.log.read_text()
    assert "Traceback" not in said, said


@pytest.fixture(scope="module")
def units(units_without_hold):
    return iter(units_without_hold)


@pytest.fixture
def unit(units):
    return next(units)


def jpeg(colour="red"):
    out = io.BytesIO()
    Image.new("RGB", (32, 24), colour).save(out, "JPEG")
    return out.getvalue()


def test_units_are_listed_searched_and_linked(server):
    page = server.ask("GET", "/walkdown")
    assert page.code == 200
    assert page.headers["cache-control"] == "no-store"
    assert page.headers["x-frame-options"] == "DENY"
    found = server.ask("GET", "/walkdown?search=ss-00+crusher")
    assert "SS-001" in found.text
    assert "SS-011" not in found.text
    assert "<h2>0 units</h2>" in server.ask("GET", "/walkdown?search=100%25").text
    assert server.ask("GET", f"/walkdown?search={'a+' * 2000}").code == 200


def test_a_walkdown_from_the_unit_to_the_signature(server, unit):
    before = server.ask("GET", f"/walkdown/new?unit={unit}")
    assert before.code == 200
    assert unit in before.text
    draft_id = server.begin(unit)
    page = server.ask("GET", f"/walkdown/{draft_id}")
    assert page.code == 200
    data = data_of(page.text)
    assert data["draft"]["unit_id"] == data["form"]["units"][0]["unit_id"] == unit
    server.answer_visit(draft_id, guard="missing")
    told = server.ask("GET", f"{API}/{draft_id}").said
    assert told["answers"]["guard"]["value"] == "missing"
    assert (told["status"], told["answers"]["guard"]["by"]) == ("open", "Ben Meier")
    verdict = server.send("POST", f"{API}/{draft_id}/verdict", {}).said
    assert verdict["verdict"] == "hold"
    assert verdict["holds"][0]["do"] == "fit the guard"
    assert verdict["faults"] == []
    missing = server.submit(draft_id, told="")
    assert missing.code == 422
    assert [fault["field"] for fault in missing.said["faults"]] == ["told"]
    done = server.submit(draft_id)
    assert done.code == 200
    assert (done.said["version"], done.said["verdict"]) == (1, "hold")
    assert server.submit(draft_id).said == done.said
    assert server.ask("GET", f"{API}/{draft_id}").said["status"] == "submitted"
    closed = server.give(draft_id, "guard", "fitted")
    assert (closed.code, closed.said["status"]) == (410, "submitted")
    assert "correct it" in closed.said["words"]
    other = server.submit(draft_id, signed_by="Cleo Roth")
    assert other.code == 410
    assert "Ben Meier has signed" in other.said["words"]


def test_a_correction_from_the_link_to_the_signature(server, unit):
    draft_id = server.begin(unit)
    server.answer_visit(draft_id)
    walkdown_id = server.submit(draft_id).said["walkdown_id"]
    before = server.ask("GET", f"/walkdown/new?correct={walkdown_id}")
    assert "You correct the walkdown" in before.text
    begun = server.post_form("/walkdown/new", {"correct": walkdown_id, "by": "Cleo Roth"})
    correction = begun.headers["location"].removeprefix("/walkdown/")
    told = data_of(server.ask("GET", f"/walkdown/{correction}").text)["draft"]
    assert told["corrects"] == {"walkdown_id": walkdown_id, "version": 1}
    assert server.give(correction, "notes", "more", by="Cleo Roth").code == 200
    assert server.submit(correction, signed_by="Cleo Roth").code == 422
    done = server.submit(correction, signed_by="Cleo Roth", reason="forgotten")
    assert (done.code, done.said["version"]) == (200, 2)


def test_two_windows_are_told_of_each_other(server, unit):
    draft_id = server.begin(unit)
    server.give(draft_id, "guard", "fitted")
    late = server.give(draft_id, "guard", "missing", client="window 2", by="Cleo Roth")
    assert late.code == 409
    assert (late.said["value"], late.said["by"], late.said["revision"]) == (
        "fitted",
        "Ben Meier",
        1,
    )
    other = server.begin(unit, "Dora Hain")
    others = server.ask("GET", f"{API}/{draft_id}").said["others"]
    assert {"name": "Dora Hain", "same_draft": False, "draft_id": other}.items() <= next(
        one for one in others if not one["same_draft"]
    ).items()


def test_a_photo_is_taken_shown_and_removed(server, unit):
    draft_id = server.begin(unit)
    sent = server.ask("POST", f"{API}/{draft_id}/photos/guard?by=Ben+Meier", jpeg())
    assert sent.code == 200
    photo_id = sent.said["photo_id"]
    again = server.ask("POST", f"{API}/{draft_id}/photos/guard?by=Ben+Meier", jpeg())
    assert again.said["photo_id"] == photo_id
    shown = server.ask("GET", f"{API}/{draft_id}/photos/{photo_id}")
    assert (shown.code, shown.headers["content-type"]) == (200, "image/jpeg")
    assert server.ask("GET", f"{API}/{draft_id}").said["photos"] == [
        {"photo_id": photo_id, "check": "guard"}
    ]
    for _ in range(2):
        gone = server.ask("DELETE", f"{API}/{draft_id}/photos/{photo_id}?by=Ben+Meier")
        assert gone.code == 200
    assert server.ask("GET", f"{API}/{draft_id}/photos/{photo_id}").code == 404


def test_rework_is_entered_and_a_unit_released(server, unit):
    draft_id = server.begin(unit)
    server.answer_visit(draft_id, guard="missing")
    server.submit(draft_id)
    release = {"unit": unit, "by": "Dora Hain", "reason": "guard fitted"}
    refused = server.post_form("/enter/release", release)
    assert refused.code == 422
    assert "fit the guard" in refused.text
    page = server.ask("GET", f"/enter/rework?unit={unit}").text
    key = re.search(r'name="key" value="([^"]+)"', page).group(1)
    done_on = re.search(r'name="done_on" value="([^"]+)"', page).group(1)
    cells = {"unit": unit, "key": key, "by": "Dora Hain", "done_on": done_on}
    wrong = server.post_form("/enter/rework", {**cells, "actions": "polish", "notes": "<i>kept"})
    assert wrong.code == 422
    assert "&lt;i&gt;kept" in wrong.text
    for _ in range(2):  # as on a second tap
        kept = server.post_form("/enter/rework", {**cells, "actions": "fit_guard"})
        assert kept.code == 200, kept.text
    assert server.post_form("/enter/release", release).code == 200


WRONG = [
    ("GET", "/walkdown/nobody-knows-it", None, 404, "begin a new one"),
    ("GET", "/walkdown/new?unit=SS-999", None, 404, "ids are case-sensitive"),
    ("GET", "/walkdown/new", None, 404, "ids are case-sensitive"),
    ("GET", "/walkdown/new?correct=W-999", None, 404, "no walkdown"),
    ("GET", "/walkdown?search=%00", None, 422, "NUL"),
    ("GET", "/walkdown/new?unit=%00", None, 422, "NUL"),
    ("GET", "/enter/rework?unit=SS-999", None, 404, "ids are case-sensitive"),
    ("GET", "/enter/release?unit=SS-999", None, 404, "ids are case-sensitive"),
    ("GET", "/enter/units?unit=SS-001", None, 404, "not entered by hand"),
    ("POST", "/walkdown/new", b"unit=SS-999&by=Ben", 404, "ids are case-sensitive"),
    ("POST", "/walkdown/new", b"unit=SS-001", 422, "needs the name"),
    ("POST", "/walkdown/new", b"unit=SS-001&by=%00", 422, "NUL"),
    ("POST", "/walkdown/new", b"correct=W-999&by=Ben", 404, "no walkdown"),
    ("POST", "/walkdown/new", b"a=b&" * 600, 422, "too many fields"),
    ("POST", "/enter/release", b"unit=SS-999&by=Ben&reason=x", 404, "ids are case-sensitive"),
    ("POST", "/enter/rework", b"unit=SS-999&by=Ben", 404, "ids are case-sensitive"),
    ("GET", f"{API}/nobody", None, 404, "begin a new one"),
    ("PUT", f"{API}/nobody/answers/guard", {"by": "B", "heading": "guard"}, 404, "begin a new"),
    ("POST", f"{API}/nobody/submit", {"signed_by": "B"}, 404, "begin a new one"),
    ("POST", f"{API}/nobody/verdict", {}, 404, "begin a new one"),
    ("GET", f"{API}/nobody/photos/nobody", None, 404, "no such photo"),
    ("PUT", f"{API}/DRAFT/answers/guard", b"", 422, "needs the name"),
    ("PUT", f"{API}/DRAFT/answers/guard", b"no JSON", 422, "no JSON object"),
    ("PUT", f"{API}/DRAFT/answers/guard", b"\xff\xfe", 422, "no JSON object"),
    ("PUT", f"{API}/DRAFT/answers/guard", b"[" * 100_000, 422, "no JSON object"),
    ("PUT", f"{API}/DRAFT/answers/guard", b"[1]", 422, "no JSON object"),
    ("PUT", f"{API}/DRAFT/answers/guard", {"by": 5}, 422, "is a text"),
    ("PUT", f"{API}/DRAFT/answers/guard", {"by": "B", "base_revision": "1"}, 422, "whole number"),
    ("PUT", f"{API}/DRAFT/answers/guard", {"by": "B", "base_revision": None}, 422, "whole number"),
    ("PUT", f"{API}/DRAFT/answers/guard", {"by": "B", "heading": "\ud83d"}, 422, "whole character"),
    ("PUT", f"{API}/DRAFT/answers/guard", {"by": "B", "value": "a\0b"}, 422, "NUL"),
    ("PUT", f"{API}/DRAFT/answers/unit_id", {"by": "B", "heading": "unit_id"}, 422, "not asked"),
    ("PUT", f"{API}/DRAFT/answers/units_of_measure",
     {"by": "B", "heading": "units_of_measure", "value": "cubits"}, 422, "metric or inch"),
    ("POST", f"{API}/DRAFT/submit", {"signed_by": "B"}, 422, "kind"),
    ("POST", f"{API}/DRAFT/photos/guard?by=B", b"text", 422, "no whole photo"),
    ("POST", f"{API}/DRAFT/photos/guard?by=B", b"", 422, "no whole photo"),
    ("POST", f"{API}/DRAFT/photos/nonsense?by=B", "JPEG", 422, "no check"),
    ("POST", f"{API}/DRAFT/photos/guard", "JPEG", 422, "needs the name"),
]  # fmt: skip


@pytest.fixture(scope="module")
def draft_to_refuse(server):
    return server.begin("SS-001")


@pytest.mark.parametrize("case", WRONG, ids=lambda case: f"{case[0]} {case[1]}: {case[4]}")
def test_what_is_wrong_is_said_in_words(server, draft_to_refuse, case):
    method, path, body, code, words = case
    path = path.replace("DRAFT", draft_to_refuse)
    if isinstance(body, dict):
        answer = server.send(method, path, body)
    else:
        answer = server.ask(method, path, jpeg() if body == "JPEG" else body)
    assert answer.code == code, answer.text
    said = answer.said["words"] if path.startswith(API) else unescape(answer.text)
    assert words in said
    assert "Traceback" not in answer.text
    assert "sqlite" not in answer.text.lower()


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "https://evil.example"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:1"},
        {"Sec-Fetch-Site": "cross-site", "Origin": "null"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_a_change_that_another_servers_page_sends_is_refused(server, unit, headers):
    draft_id = server.begin(unit)
    body = {"heading": "guard", "value": "fitted", "by": "Ben Meier"}
    refused = [
        server.send("PUT", f"{API}/{draft_id}/answers/guard", body, **headers),
        server.send("POST", f"{API}/{draft_id}/submit", {"signed_by": "Ben"}, **headers),
        server.post_form("/walkdown/new", {"unit": unit, "by": "Ben Meier"}, **headers),
        server.post_form("/enter/release", {"unit": unit, "by": "B", "reason": "x"}, **headers),
        server.ask("DELETE", f"{API}/{draft_id}/photos/x?by=B", None, headers),
    ]
    assert [answer.code for answer in refused] == [403] * 5
    assert server.ask("GET", f"{API}/{draft_id}").said["answers"] == {}


def test_changes_from_our_own_pages_are_taken(server, unit):
    own = f"http://127.0.0.1:{server.port}"
    draft_id = server.begin(unit)
    body = {"heading": "guard", "value": "fitted", "by": "Ben Meier"}
    for headers in ({"Origin": own}, {"Sec-Fetch-Site": "same-origin", "Origin": own}):
        sent = server.send("PUT", f"{API}/{draft_id}/answers/guard", body, **headers)
        assert sent.code == 200


def test_too_much_at_once_is_refused_whatever_the_headers_say(server, unit):
    draft_id = server.begin(unit)
    path = f"{API}/{draft_id}/photos/guard?by=B"
    with_length = server.ask("POST", path, None, {"Content-Length": "30000000"})
    assert with_length.code == 413
    assert "20 MB" in with_length.said["words"]
    over = server.ask("POST", path, b"\xff\xd8\xff" + b"\0" * 16_000_000)
    assert over.code == 422
    assert "at most 15 MB" in over.said["words"]


def test_too_much_in_pieces_is_refused(server, unit):
    draft_id = server.begin(unit)
    pieces = (b"\0" * 1_000_000 for _ in range(25))
    try:
        code = server.ask("POST", f"{API}/{draft_id}/photos/guard?by=B", pieces).code
    except (ConnectionError, OSError):
        code = 413  # the server may hang up before all of it is sent
    assert code == 413
    assert server.ask("GET", f"{API}/{draft_id}").said["photos"] == []


@pytest.mark.parametrize("name", HOSTILE)
def test_a_name_of_any_letters_goes_all_the_way(server, name):
    listed = server.ask("GET", f"/walkdown?{urlencode({'search': name})}")
    links = [unescape(link) for link in re.findall(r'href="(/walkdown/new\?[^"]+)"', listed.text)]
    link = next(one for one in links if parse_qs(urlsplit(one).query)["unit"] == [name])
    before = server.ask("GET", link)
    assert before.code == 200
    assert unescape(re.search(r"<h1>(.*?)</h1>", before.text).group(1)) == name
    sent = unescape(re.search(r'name="unit" value="([^"]*)"', before.text).group(1))
    assert sent == name
    person = f"{name} ♥"
    draft_id = server.begin(sent, person)
    page = server.ask("GET", f"/walkdown/{draft_id}").text
    data = data_of(page)
    assert data["draft"]["unit_id"] == data["form"]["units"][0]["unit_id"] == name
    assert data["form"]["units"][0]["site"] == name
    server.answer_visit(draft_id, notes=name)
    answer = server.give(draft_id, "guard", "missing", by=person)
    assert answer.code == 200
    done = server.submit(draft_id, signed_by=person, told=name)
    assert done.code == 200, done.text
    assert parse_qs(urlsplit(done.said["unit_page"]).query)["unit"] == [name]
    assert server.ask("GET", done.said["unit_page"]).code == 200
    refused = server.post_form("/enter/release", {"unit": name, "by": person, "reason": "x"})
    assert refused.code == 422
    record = server.ask("GET", f"/enter/rework?unit={quote(name, safe='')}")
    assert record.code == 200
    for text in (listed.text, before.text, page, refused.text, record.text):
        assert "<b>x" not in text


def test_a_device_that_nobody_holds_yet_is_asked_who_and_goes_on(server, unit):
    draft = server.begin(unit)
    asked = server.ask("GET", f"/walkdown/{draft}", headers={"Cookie": ""})
    assert asked.code == 303
    assert asked.headers["location"] == f"/walkdown/who?to={draft}"
    page = server.ask("GET", asked.headers["location"], headers={"Cookie": ""})
    assert "Who holds this device?" in page.text
    named = server.post_form("/walkdown/who", {"to": draft, "by": "Zoë  Ünal"})
    assert named.headers["location"] == f"/walkdown/{draft}"
    cookie = named.headers["set-cookie"].split(";")[0]
    form = server.ask("GET", f"/walkdown/{draft}", headers={"Cookie": cookie})
    assert data_of(form.text)["draft"]["person"] == "Zoë Ünal"


def test_without_a_name_it_is_asked_again(server, unit):
    draft = server.begin(unit)
    named = server.post_form("/walkdown/who", {"to": draft, "by": " "})
    assert named.headers["location"] == f"/walkdown/who?to={draft}"
    assert "set-cookie" not in named.headers


def test_a_walkdown_that_was_begun_can_be_given_up(server, unit):
    draft = server.begin(unit)
    page = server.ask("GET", f"/walkdown/new?unit={unit}").text
    assert f'name="draft" value="{draft}"' in page
    assert server.post_form("/walkdown/give-up", {"draft": draft}).code == 303
    assert f'value="{draft}"' not in server.ask("GET", f"/walkdown/new?unit={unit}").text
    assert server.ask("GET", f"{API}/{draft}").said["status"] == "discarded"
    assert server.post_form("/walkdown/give-up", {"draft": draft}).code == 410
