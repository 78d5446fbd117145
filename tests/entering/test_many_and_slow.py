"""Connections that say nothing, and bodies that drip in: others are answered meanwhile.

Those that wait for a bound of time run with ``-m long``.
"""

import contextlib
import http.client
import resource
import shutil
import socket
import time

import pytest
from over_http import API, Server
from pages_server import PATIENCE_S

from dashboard.guard.bounded_bodies import PATIENCE_S as BODY_S
from dashboard.guard.bounded_bodies import UPLOADS_AT_ONCE
from dashboard.guard.patient_protocol import HEADERS_PATIENCE_S


@pytest.fixture(scope="module")
def served(quarry_file, tmp_path_factory):
    folder = tmp_path_factory.mktemp("slow")
    shutil.copy(quarry_file, folder / "quarry.db")
    started = Server(f"sqlite:///{folder / 'quarry.db'}", folder / "log.txt")
    yield started
    started.stop()
    assert "Traceback" not in started.log.read_text()


def open_many(port, count, first=b""):
    opened = []
    for _ in range(count):
        with contextlib.suppress(OSError):
            one = socket.create_connection(("127.0.0.1", port), PATIENCE_S)
            opened.append(one)
            one.sendall(first)
    return opened


def close(connections):
    for one in connections:
        one.close()


def is_let_go(connection):
    """Tell whether the server has hung up, waiting for it."""
    connection.settimeout(PATIENCE_S)
    try:
        return connection.recv(65_536) == b"" or connection.recv(65_536) == b""
    except ConnectionError:
        return True


@pytest.mark.long
@pytest.mark.parametrize("first", [b"", b"GET / HT", b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-A: "])
def test_who_asks_nothing_is_let_go(served, first):
    began = time.monotonic()
    waiting = open_many(served.port, 5, first)
    assert all(map(is_let_go, waiting))
    assert time.monotonic() - began > HEADERS_PATIENCE_S / 2
    close(waiting)


def test_thousands_of_idle_connections_keep_nobody_out(served):
    """More than the server has room for: those that wait longest are let go for the new ones."""
    most, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
    count = min(5_000, most - 500)
    idle = open_many(served.port, count)
    assert len(idle) > count / 2
    for path in ("/walkdown", "/_stcore/health", "/health"):
        assert served.ask("GET", path).code == 200
    close(idle)
    assert served.ask("GET", "/walkdown").code == 200


@pytest.mark.long
def test_bodies_that_drip_in_are_given_up_and_keep_nobody_out(served, units_without_hold):
    draft_id = served.begin(units_without_hold[0])
    head = (
        f"POST {API}/{draft_id}/photos/guard?by=B HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n"
        "Content-Length: 10000000\r\n\r\n"
    ).encode()
    began = time.monotonic()
    dripping = open_many(served.port, UPLOADS_AT_ONCE, head)
    assert served.ask("GET", f"{API}/{draft_id}").code == 200
    assert served.give(draft_id, "guard", "fitted").code == 200
    answers = []
    for one in dripping:
        one.settimeout(PATIENCE_S)
        answers.append(one.recv(65_536)[:12])
    assert set(answers) == {b"HTTP/1.1 408"}
    assert time.monotonic() - began > BODY_S / 2
    close(dripping)
    assert served.ask("GET", f"{API}/{draft_id}").said["photos"] == []


def test_an_answer_that_nobody_takes_holds_up_nobody(served):
    """Who asks again and again and reads nothing fills only what is between us."""
    ask = f"GET /walkdown HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n\r\n".encode()
    deaf = open_many(served.port, 20, ask * 200)
    connection = http.client.HTTPConnection("127.0.0.1", served.port, timeout=PATIENCE_S)
    connection.request("GET", "/walkdown")
    assert connection.getresponse().status == 200
    connection.close()
    close(deaf)
