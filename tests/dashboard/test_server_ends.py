"""Whatever ends the command, its server ends with it, and the port is free again."""

import os
import signal
import time
from pathlib import Path

import pytest
from kept_plants import SMALL_QUARRY
from pages_server import PATIENCE_S, free_port, is_answered, start_pages

PROCESSES = Path("/proc")


def stat_of(pid):
    """Return state and parent of a process; nothing where there is none."""
    try:
        said = (PROCESSES / str(pid) / "stat").read_text(encoding="utf-8")
    except OSError:
        return None
    state, parent = said.rpartition(")")[2].split()[:2]
    return state, int(parent)


def family_of(pid):
    """Return the processes that a process started, and those that these started."""
    all_of_them = [int(entry.name) for entry in PROCESSES.iterdir() if entry.name.isdecimal()]
    parents = {one: stat[1] for one in all_of_them if (stat := stat_of(one))}
    found, last = set(), {pid}
    while last:
        last = {child for child, parent in parents.items() if parent in last} - found
        found |= last
    return found


def is_there(pid):
    stat = stat_of(pid)
    return stat is not None and stat[0] != "Z"


@pytest.mark.skipif(not PROCESSES.is_dir(), reason="looks for processes in /proc")
@pytest.mark.parametrize("how", ["SIGTERM", "SIGINT", "SIGHUP", "SIGKILL"])
def test_the_port_is_free_and_nobody_is_left(how):
    port = free_port()
    process = start_pages(SMALL_QUARRY, port=port)
    family = family_of(process.pid)
    assert family
    assert is_answered(port)
    os.kill(process.pid, getattr(signal, how))  # the command alone, not what it started
    code = process.wait(timeout=PATIENCE_S)
    assert code == (-signal.SIGKILL if how == "SIGKILL" else 0)
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end and (is_answered(port) or any(map(is_there, family))):
        time.sleep(0.1)
    assert not is_answered(port)
    assert [pid for pid in family if is_there(pid)] == []


def test_a_server_that_is_ended_from_outside_ends_the_command():
    port = free_port()
    process = start_pages(SMALL_QUARRY, port=port)
    (server,) = family_of(process.pid)
    os.kill(server, signal.SIGKILL)
    assert process.wait(timeout=PATIENCE_S) != 0
    assert not is_answered(port)
