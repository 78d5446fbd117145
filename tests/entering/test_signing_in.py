"""Signing in and out: what does not fit what was asked, was used before or made up, is refused."""

import re
import time
from base64 import urlsafe_b64encode
from hashlib import sha256
from urllib.parse import parse_qs, urlsplit

import pytest
from signed_in import Pages, come_back, environment, grant_all, provider, session_of, withdraw_from

from dashboard.identity import sessions
from dashboard.identity.sessions import Sessions
from scoring.access.grants import SignedInAs
from scoring.access.login_settings import LoginSettings, login_settings
from scoring.errors import FixableError

pytestmark = pytest.mark.slow

PEOPLE = (("Di Eck", "1002", "inspector", ["Stone shed"]),)
PLAIN = {"Accept": "*/*"}


@pytest.fixture(scope="module")
def issuer():
    with provider() as login:
        yield login.issuer


@pytest.fixture(scope="module")
def pages(store_url, issuer, tmp_path_factory):
    """Serve the quarry from each database, with a login."""
    grant_all(store_url, issuer, PEOPLE)
    log = tmp_path_factory.mktemp("login") / "log.txt"
    started = Pages(store_url, issuer, log)
    yield started
    started.stop()
    said = log.read_text()
    assert "Traceback" not in said, said
    for secret in ("not-for-anybody", "1002", "Di Eck"):
        assert secret not in said


def begun(pages, to="/walkdown"):
    return pages.ask("GET", f"/sign-in?to={to}")


def returned(pages, back, flow):
    return pages.ask("GET", back, headers={"Cookie": flow})


def test_state_nonce_and_a_challenge_are_sent_and_the_secret_is_not(pages):
    asked = urlsplit(begun(pages).headers["location"])
    sent = parse_qs(asked.query)
    assert sent["code_challenge_method"] == ["S256"]
    assert len(sent["code_challenge"][0]) == len(urlsafe_b64encode(sha256(b"").digest())) - 1
    assert min(len(sent["state"][0]), len(sent["nonce"][0])) >= 20
    assert sent["redirect_uri"] == [f"{pages.url}/sign-in/back"]
    assert "not-for-anybody" not in asked.query


def test_the_cookie_is_for_these_pages_alone_and_no_script_reads_it(pages):
    begins = begun(pages)
    back, flow = come_back(begins, "1002")
    answer = returned(pages, back, flow)
    (kept,) = [one for one in answer.cookies if one.startswith("mount_risk_session=")]
    said = kept.lower()
    for word in ("httponly", "samesite=lax", "path=/", "max-age=43200"):
        assert word in said
    assert "1002" not in kept
    assert "httponly" in begins.cookies[0].lower()


def test_a_callback_is_taken_once(pages):
    back, flow = come_back(begun(pages), "1002")
    assert returned(pages, back, flow).code == 303
    again = returned(pages, back, flow)
    assert again.code == 403
    assert not [one for one in again.cookies if "mount_risk_session=" in one]


def test_a_callback_of_another_browser_is_refused(pages):
    back, _ = come_back(begun(pages), "1002")
    other = begun(pages).cookies[0].partition(";")[0]
    for cookie in ("", other, "mount_risk_sign_in=eyJ9.x.y"):
        assert returned(pages, back, cookie).code == 403


@pytest.mark.parametrize(
    ("part", "value"),
    [("state", "made-up"), ("code", "made-up"), ("state", ""), ("code", "")],
)
def test_another_state_or_code_is_refused(pages, part, value):
    back, flow = come_back(begun(pages), "1002")
    changed = re.sub(f"{part}=[^&]*", f"{part}={value}", back)
    assert changed != back
    assert returned(pages, changed, flow).code in {403, 502}


def test_a_token_with_another_nonce_is_refused(pages):
    def change(address):
        return re.sub("nonce=[^&]*", "nonce=of-somebody-else", address)

    back, flow = come_back(begun(pages), "1002", change)
    answer = returned(pages, back, flow)
    assert answer.code == 403
    assert not [one for one in answer.cookies if "mount_risk_session=" in one]


def test_who_is_denied_at_the_provider_is_told_so(pages):
    _, flow = come_back(begun(pages), "1002")
    state = parse_qs(urlsplit(begun(pages).headers["location"]).query)["state"][0]
    answer = returned(pages, f"/sign-in/back?error=access_denied&state={state}", flow)
    assert answer.code == 403
    assert "Not signed in" in answer.text


@pytest.mark.parametrize(
    "to", ["//evil.example", "https://evil.example", "/\\evil.example", "evil", "/%0d%0aX:y"]
)
def test_one_comes_back_to_our_own_pages_alone(pages, to):
    back, flow = come_back(begun(pages, to), "1002")
    assert returned(pages, back, flow).headers["location"] == "/"


def test_a_page_asks_to_sign_in_and_goes_on_from_there(pages):
    answer = pages.ask("GET", "/unit?unit=SS-001&x=%2F", headers={"Accept": "text/html"})
    assert answer.code == 303
    to = parse_qs(urlsplit(answer.headers["location"]).query)["to"][0]
    assert to == "/unit?unit=SS-001&x=%2F"
    refused = pages.ask("POST", "/walkdown/new", b"unit=SS-001", {"Accept": "text/html"})
    assert refused.code == 401


def test_who_signed_out_is_out_and_so_is_who_copied_the_cookie(pages):
    kept = pages.sign_in("1002")
    assert pages.ask("GET", "/walkdown", headers={**kept, **PLAIN}).code == 200
    assert pages.ask("POST", "/sign-out", b"", {**kept, **PLAIN}).code == 403  # from no page
    elsewhere = {**kept, "Origin": "https://evil.example"}
    assert pages.ask("POST", "/sign-out", b"", elsewhere).code == 403
    assert pages.ask("GET", "/walkdown", headers={**kept, **PLAIN}).code == 200
    answer = pages.ask("POST", "/sign-out", b"", {**kept, "Origin": pages.url})
    assert answer.code == 303
    assert "/oauth2/end_session?" in answer.headers["location"]
    assert "not-for-anybody" not in answer.headers["location"]
    assert pages.ask("GET", "/walkdown", headers={**kept, **PLAIN}).code == 401


def test_a_new_session_ends_the_one_before(pages):
    first = pages.sign_in("1002")
    back, flow = come_back(begun(pages), "1002")
    both = f"{flow}; {first['Cookie']}"
    second = session_of(returned(pages, back, both))
    assert pages.ask("GET", "/walkdown", headers={**first, **PLAIN}).code == 401
    assert pages.ask("GET", "/walkdown", headers={"Cookie": second, **PLAIN}).code == 200


def test_a_role_that_is_withdrawn_counts_at_once(pages, store_url, issuer):
    grant_all(store_url, issuer, [("Flo Gold", "1007", "manager", None)])
    kept = {**pages.sign_in("1007"), **PLAIN}
    assert pages.ask("GET", "/today", headers=kept).code == 200
    withdraw_from(store_url, issuer, "1007")
    assert pages.ask("GET", "/today", headers=kept).code == 403


def test_who_has_no_role_is_shown_the_own_subject(pages):
    kept = pages.sign_in("<b>1010")
    answer = pages.ask("GET", "/fix", headers={**kept, "Accept-Language": "de"})
    assert answer.code == 403
    assert "&lt;b&gt;1010" in answer.text
    assert "Ein Verwalter vergibt sie" in answer.text


def test_a_session_ends_in_time_and_altered_cookies_are_none(monkeypatch):
    kept = Sessions(is_encrypted=True)
    who = SignedInAs("https://login.plant", "1002")
    value = kept.begin(who)
    assert kept.cookie.startswith("__Host-")
    assert kept.find({kept.cookie: value}).who == who
    for place in range(len(value)):
        other = "A" if value[place] != "A" else "B"
        altered = value[:place] + other + value[place + 1 :]
        same = place == len(value) - 1  # the last letter of Base64 has bits to spare
        assert same or kept.find({kept.cookie: altered}) is None
    assert Sessions(is_encrypted=True).find({kept.cookie: value}) is None
    later = time.time() + sessions.LASTS_S + 1
    monkeypatch.setattr(sessions.time, "time", lambda: later)
    assert kept.find({kept.cookie: value}) is None


SET = environment("https://login.plant", "https://risk.plant")


def test_the_settings_are_whole_or_refused_and_no_message_holds_the_secret(tmp_path):
    assert login_settings(SET).public_url == "https://risk.plant"
    assert "not-for-anybody" not in repr(login_settings(SET))
    file = tmp_path / "secret"
    file.write_text("from-a-file\n")
    by_file = {**SET, "MOUNT_RISK_OIDC_CLIENT_SECRET_FILE": str(file)}
    assert login_settings(by_file).client_secret == "from-a-file"  # noqa: S105
    for name in SET:
        with pytest.raises(FixableError, match=name):
            login_settings({**SET, name: ""})
    wrong = {
        "MOUNT_RISK_PUBLIC_URL": ("http://risk.plant", "https://risk.plant/a", "risk", "ftp://x"),
        "MOUNT_RISK_OIDC_ISSUER": ("http://login.plant", "https://u:p@login.plant", "//x"),
        "MOUNT_RISK_OIDC_CLIENT_SECRET_FILE": (str(tmp_path / "none"),),
    }
    for name, values in wrong.items():
        for value in values:
            with pytest.raises(FixableError, match=name) as refused:
                login_settings({**SET, name: value})
            assert "not-for-anybody" not in str(refused.value)
    assert isinstance(login_settings(SET), LoginSettings)
