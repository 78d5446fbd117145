"""The pages by https: by a certificate of their own, and behind a server that speaks it."""

import http.client
import os
import shutil
import ssl
import subprocess
import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from pages_server import COMMAND, PATIENCE_S, free_port, start_pages, stop_pages
from signed_in import environment, provider
from stored_quarry import load_quarry

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def certificate(tmp_path_factory):
    """Make a certificate for this machine; nobody else vouches for it."""
    folder = tmp_path_factory.mktemp("tls")
    file, key = folder / "own.pem", folder / "own.key"
    subprocess.run(
        [shutil.which("openssl"), "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2",
         "-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1",
         "-keyout", str(key), "-out", str(file)],
        check=True, capture_output=True,
    )  # fmt: skip
    return file, key


@pytest.fixture(scope="module")
def issuer():
    with provider() as login:
        yield login.issuer


@pytest.fixture(scope="module")
def store_url(tmp_path_factory):
    return load_quarry(tmp_path_factory.mktemp("quarry") / "quarry.db")


def asked(port, certificate, path, headers=None):
    trusted = ssl.create_default_context(cafile=certificate[0])
    connection = http.client.HTTPSConnection("localhost", port, context=trusted, timeout=PATIENCE_S)
    try:
        connection.request("GET", path, headers=headers or {})
        answer = connection.getresponse()
        return answer.status, answer.headers, answer.read().decode()
    finally:
        connection.close()


def test_by_an_own_certificate_the_cookie_is_for_https_alone(certificate, issuer, store_url):
    port = free_port()
    url = f"https://localhost:{port}"
    file, key = certificate
    process = start_pages(
        store_url, "--certificate", str(file), "--key", str(key),
        port=port, env={**os.environ, **environment(issuer, url)},
    )  # fmt: skip
    try:
        assert asked(port, certificate, "/_stcore/health")[0] == 200
        status, headers, _ = asked(port, certificate, "/sign-in")
        assert status == 302
        assert f"redirect_uri=https%3A%2F%2Flocalhost%3A{port}" in headers["location"]
        assert "secure" in headers["set-cookie"].lower()
        assert asked(port, certificate, "/today")[0] == 401
    finally:
        stop_pages(process)


class InFront(BaseHTTPRequestHandler):
    """Hands requests on to the pages, as a server in front does."""

    behind = 0

    def do_GET(self):
        connection = http.client.HTTPConnection("127.0.0.1", self.behind, timeout=PATIENCE_S)
        connection.request("GET", self.path, headers=dict(self.headers.items()))
        answer = connection.getresponse()
        body = answer.read()
        self.send_response(answer.status)
        for name, value in answer.getheaders():
            if name.lower() not in {"transfer-encoding", "content-length", "connection"}:
                self.send_header(name, value)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)
        connection.close()

    def log_message(self, *said):
        del said


def test_behind_a_server_scheme_and_name_are_those_of_the_setting(certificate, issuer, store_url):
    front = ThreadingHTTPServer(("127.0.0.1", 0), InFront)
    secured = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    secured.load_cert_chain(*certificate)
    front.socket = secured.wrap_socket(front.socket, server_side=True)
    InFront.behind = free_port()
    threading.Thread(target=front.serve_forever, daemon=True).start()
    url = f"https://localhost:{front.server_port}"
    process = start_pages(
        store_url, port=InFront.behind, env={**os.environ, **environment(issuer, url)}
    )
    try:
        lied = {"X-Forwarded-Host": "evil.example", "X-Forwarded-Proto": "http"}
        status, headers, _ = asked(front.server_port, certificate, "/sign-in", lied)
        assert status == 302
        sent = urlsplit(headers["location"]).query
        assert f"redirect_uri=https%3A%2F%2Flocalhost%3A{front.server_port}%2Fsign-in" in sent
        assert "evil" not in sent
        assert "secure" in headers["set-cookie"].lower()
        assert asked(front.server_port, certificate, "/today")[0] == 401
    finally:
        stop_pages(process)
        front.shutdown()
        front.server_close()


def refused(*words, **more):
    done = subprocess.run(
        [COMMAND, "dashboard", *words, "--no-open"],
        env={**os.environ, **more},
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE_S,
    )
    assert done.returncode != 0
    return " ".join(done.stderr.split())


def test_others_than_this_machine_are_refused_without_a_login(store_url, certificate):
    for address in ("0.0.0.0", "192.0.2.7", "::"):  # noqa: S104 - it is refused
        said = refused(store_url, "--address", address)
        assert "would read and write without a login" in said
        assert "--anybody-who-reaches-it-may-write" in said
    files = str(Path(__file__).parents[1] / "frozen_plants" / "plants" / "small_quarry")
    set_up = environment("https://login.plant", "https://risk.plant")
    said = refused(files, "--address", "0.0.0.0", **set_up)  # noqa: S104
    assert "files keep no roles" in said
    assert "would read and write without a login" in said
    said = refused(store_url, "--certificate", str(certificate[0]))
    assert "a certificate and its key go together" in said


def test_a_login_that_is_set_up_in_part_is_refused_and_keeps_its_secret(store_url):
    set_up = environment("https://login.plant", "http://risk.plant")
    said = refused(store_url, **set_up)
    assert "MOUNT_RISK_PUBLIC_URL begins with https://" in said
    assert "not-for-anybody" not in said
    said = refused(store_url, **{**set_up, "MOUNT_RISK_OIDC_CLIENT_ID": ""})
    assert "MOUNT_RISK_OIDC_CLIENT_ID must be given" in said
