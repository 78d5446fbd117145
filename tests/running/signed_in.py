"""People who sign in at a provider of OpenID Connect on this machine, and pages that ask for it."""

import http.client
import os
import subprocess
import sys
import time
from contextlib import closing, contextmanager
from dataclasses import dataclass
from urllib.parse import urlencode, urlsplit

from pages_server import PATIENCE_S, free_port, is_answered, start_pages, stop_pages

from scoring.access.acts import Role
from scoring.access.grants import SignedInAs, grant, withdraw
from scoring.store.open_store import open_store

CLIENT = "mount-risk"
SECRET = "not-for-anybody"  # noqa: S105 - of a provider that ends with the test
PERSON = ("administrator", "Cy Dunn", "1001")


@dataclass(frozen=True)
class Provider:
    """A provider that lets everybody in by the subject that they type."""

    issuer: str


@dataclass(frozen=True)
class Answered:
    code: int
    text: str
    headers: dict[str, str]
    cookies: tuple[str, ...]


@contextmanager
def provider():
    """Run a provider as a process of its own."""
    port = free_port()
    process = subprocess.Popen(
        [sys.executable, "-W", "ignore", "-m", "oidc_provider_mock", "--port", str(port)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        end = time.monotonic() + PATIENCE_S
        while not is_answered(port) and time.monotonic() < end:
            time.sleep(0.1)
        yield Provider(f"http://127.0.0.1:{port}")
    finally:
        process.terminate()
        process.wait(timeout=PATIENCE_S)


def environment(issuer, public_url):
    """Return the settings of the login."""
    return {
        "MOUNT_RISK_OIDC_ISSUER": issuer,
        "MOUNT_RISK_OIDC_CLIENT_ID": CLIENT,
        "MOUNT_RISK_OIDC_CLIENT_SECRET": SECRET,
        "MOUNT_RISK_PUBLIC_URL": public_url,
    }


def grant_all(store_url, issuer, people):
    """Grant roles at sites, by name, subject, roles and sites; an administrator comes first."""
    _, name, subject = PERSON
    with closing(open_store(store_url)) as store:
        with store.writing(name) as writing:
            grant(writing, SignedInAs(issuer, subject), name, [Role.ADMINISTRATOR], None)
        for named, known_as, roles, sites in people:
            with store.writing(name) as writing:
                who = SignedInAs(issuer, known_as)
                grant(writing, who, named, [Role(role) for role in roles.split()], sites)


def withdraw_from(store_url, issuer, subject):
    """Take all roles from a person."""
    with closing(open_store(store_url)) as store, store.writing(PERSON[1]) as writing:
        withdraw(writing, SignedInAs(issuer, subject))


class Pages:
    """Pages over a store that ask for a login."""

    def __init__(self, store_url, issuer, log):
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        with log.open("w") as out:
            self.process = start_pages(
                store_url,
                port=self.port,
                stdout=out,
                stderr=subprocess.STDOUT,
                env={
                    **os.environ,
                    **environment(issuer, self.url),
                    "OPENBLAS_NUM_THREADS": "1",
                },
            )

    def stop(self):
        stop_pages(self.process)

    def ask(self, method, path, body=None, headers=None):
        return ask(self.url, method, path, body, headers)

    def sign_in(self, subject):
        """Sign in as somebody, and return the headers that their browser sends."""
        begun = self.ask("GET", "/sign-in?to=/walkdown")
        assert begun.code == 302, begun.text
        back, flow = come_back(begun, subject)
        answer = self.ask("GET", back, headers={"Cookie": flow})
        assert answer.code == 303, answer.text
        assert answer.headers["location"] == "/walkdown"
        return {"Cookie": session_of(answer)}


def come_back(begun, subject, change=lambda address: address):
    """Do what a browser does at the provider; return where it is sent back to, and its cookie."""
    (flow,) = begun.cookies
    address = change(begun.headers["location"])
    typed = urlencode({"sub": subject}).encode()
    form = {"Content-Type": "application/x-www-form-urlencoded"}
    sent = ask(address, "POST", "", typed, form)
    assert sent.code == 302, sent.text
    parts = urlsplit(sent.headers["location"])
    return f"{parts.path}?{parts.query}", flow.partition(";")[0]


def session_of(answer):
    (kept,) = [one for one in answer.cookies if "mount_risk_session=" in one]
    return kept.partition(";")[0]


def ask(base, method, path, body=None, headers=None):
    """Send a request as it is, and follow nothing."""
    parts = urlsplit(base)
    connection = http.client.HTTPConnection(parts.netloc, timeout=PATIENCE_S)
    try:
        whole = path or f"{parts.path}?{parts.query}"
        connection.request(method, whole, body=body, headers=headers or {})
        answer = connection.getresponse()
        text = answer.read().decode("utf-8", "replace")
        cookies = tuple(answer.headers.get_all("set-cookie") or ())
        return Answered(
            answer.status, text, {k.lower(): v for k, v in answer.getheaders()}, cookies
        )
    finally:
        connection.close()
