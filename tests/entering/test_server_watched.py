"""How a server is watched: its health address, and a log that tells of nobody."""

import json
import shutil
import signal
import socket
import sqlite3
import threading
import time
from contextlib import closing, suppress

import psycopg
import pytest
from over_http import API, Server
from pages_server import PATIENCE_S

PERSON, UNIT_WORDS = "Zoe Tellingname", "a word of the records"


@pytest.fixture
def with_log(quarry_file, tmp_path, monkeypatch):
    shutil.copy(quarry_file, tmp_path / "quarry.db")
    log = tmp_path / "requests.jsonl"
    monkeypatch.setenv("MOUNT_RISK_LOG", str(log))
    started = Server(f"sqlite:///{tmp_path / 'quarry.db'}", tmp_path / "said.txt")
    started.told = lambda: [json.loads(line) for line in log.read_text().splitlines()]
    yield started
    if started.process.poll() is None:
        started.stop()


def test_the_log_tells_how_and_never_who_or_what(with_log, units_without_hold):
    unit_id = units_without_hold[0]
    draft_id = with_log.begin(unit_id, PERSON)
    with_log.give(draft_id, "notes", UNIT_WORDS, by=PERSON)
    with_log.ask("GET", f"/walkdown/{draft_id}")
    with_log.ask("GET", f"/unit?unit={unit_id}")
    with_log.ask("GET", f"/{PERSON.replace(' ', '%20')}")
    with_log.ask("GET", "/", headers={"Host": "evil.example"})
    with_log.ask("PUT", f"{API}/{draft_id}/answers/{PERSON[:3]}", b"{")
    kept = with_log.ask("GET", f"{API}/none")
    end = time.monotonic() + PATIENCE_S
    while kept.headers["x-request-id"] not in json.dumps(with_log.told()):
        assert time.monotonic() < end
        time.sleep(0.05)  # the line is written once the answer is out
    lines = with_log.told()
    requests = [line for line in lines if line["event"] == "request"]
    assert lines[0]["event"] == "started"
    for line in requests:
        assert {"time", "request", "method", "route", "status", "ms", "bytes"} <= line.keys()
        assert line["time"].endswith("+00:00")
        assert line["ms"] >= 0
    asked = {(line["method"], line["route"], line["status"]) for line in requests}
    assert asked >= {
        ("POST", "/walkdown/new", 303),
        ("PUT", "/walkdown/api/drafts/{draft_id}/answers/{field}", 200),
        ("PUT", "/walkdown/api/drafts/{draft_id}/answers/{field}", 422),
        ("GET", "/walkdown/{draft_id}", 200),
        ("GET", "/unit", 200),
        ("GET", "{}", 200),
        ("GET", "/", 421),
        ("GET", "/walkdown/api/drafts/{draft_id}", 404),
    }
    assert any(line["request"] == kept.headers["x-request-id"] for line in requests)
    whole = json.dumps(lines)
    for secret in (PERSON, PERSON[:3], UNIT_WORDS, unit_id, draft_id, "evil", "127.0.0.1"):
        assert secret not in whole
    with_log.process.send_signal(signal.SIGTERM)
    with_log.process.wait(timeout=PATIENCE_S)
    assert with_log.told()[-1]["event"] == "stopped"


def test_health_is_well_while_the_store_is_and_says_no_more(store_url, tmp_path):
    served = Server(store_url, tmp_path / "said.txt")
    try:
        well = served.ask("GET", "/health")
        assert (well.code, well.said) == (200, {"status": "ok"})
        assert well.headers["cache-control"] == "no-store"
        assert served.ask("POST", "/health", b"x=1").code == 405
        _set_schema(store_url, "0001")
        ill = _when(served, 503)
        assert ill.body.count(b"\n") == 1
        assert b"mount-risk check" in ill.body
        for more in (b"sqlite", b"postgresql", b"/", b"0001", b"Traceback"):
            assert more not in ill.body
    finally:
        served.stop()


def _when(served, code):
    """Ask until the answer is not the one that was kept."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        answer = served.ask("GET", "/health")
        if answer.code == code:
            return answer
        time.sleep(0.1)
    raise AssertionError(answer)


def _set_schema(url, schema):
    if url.startswith("sqlite"):
        with closing(sqlite3.connect(url.removeprefix("sqlite:///"))) as base, base:
            base.execute("UPDATE alembic_version SET version_num = ?", (schema,))
        return
    with psycopg.connect(url) as base:
        base.execute("UPDATE alembic_version SET version_num = %s", (schema,))


def test_health_answers_in_time_though_the_database_does_not(new_store, tmp_path):
    """A database that takes the connection and says nothing, as one behind a dead network does."""
    address = new_store()
    host, _, port = address.rpartition("@")[2].partition("/")[0].partition(":")
    through = _Line(host, int(port))
    own = address.replace(f"{host}:{port}", f"127.0.0.1:{through.port}")
    served = Server(own, tmp_path / "said.txt")
    try:
        assert _when(served, 200).said == {"status": "ok"}
        through.is_dead = True
        began = time.monotonic()
        answer = _when(served, 503)
        assert answer.code == 503
        assert time.monotonic() - began < PATIENCE_S
        assert served.ask("GET", "/_stcore/health").code == 200
    finally:
        served.stop()
        through.close()


class _Line:
    """A line to a database that may go dead: nothing passes any more, and nobody hangs up."""

    def __init__(self, host, port):
        self.is_dead = False
        self._there = (host, port)
        self._ends = [socket.create_server(("127.0.0.1", 0))]
        self.port = self._ends[0].getsockname()[1]
        self._threads = [threading.Thread(target=self._take, daemon=True)]
        self._threads[0].start()

    def close(self):
        for end in self._ends:
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
        for thread in self._threads:
            thread.join(PATIENCE_S)
        for end in self._ends:
            end.close()

    def _take(self):
        with suppress(OSError):
            while True:
                here, _ = self._ends[0].accept()
                there = socket.create_connection(self._there)
                self._ends += [here, there]
                for ends in ((here, there), (there, here)):
                    thread = threading.Thread(target=self._pass_on, args=ends, daemon=True)
                    self._threads.append(thread)
                    thread.start()

    def _pass_on(self, one, other):
        with suppress(OSError):
            while data := one.recv(65_536):
                if not self.is_dead:
                    other.sendall(data)
        if not self.is_dead:
            with suppress(OSError):
                other.shutdown(socket.SHUT_WR)
