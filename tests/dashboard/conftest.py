"""The pages on a real server and in a real browser."""

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from one_playwright import chromium_or_skip, running_playwright

COMMAND = str(Path(sys.executable).parent / "mount-risk")
QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def start_pages(fleet: str) -> tuple[subprocess.Popen, str]:
    port = free_port()
    process = subprocess.Popen(
        [COMMAND, "dashboard", fleet, "--as-of", "2026-06-30", "--port", str(port), "--no-open"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    end = time.monotonic() + 60
    while time.monotonic() < end:
        with socket.socket() as probe:
            probe.settimeout(0.2)
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return process, f"http://127.0.0.1:{port}"
        time.sleep(0.2)
    stop_pages(process)
    raise AssertionError("the pages did not start within a minute")


def stop_pages(process: subprocess.Popen) -> None:
    os.killpg(process.pid, 15)
    process.wait(timeout=20)


@pytest.fixture(scope="session")
def pages() -> Iterator[str]:
    process, address = start_pages("demo:grain_port")
    yield address
    stop_pages(process)


@pytest.fixture(scope="session")
def browser(pytestconfig: pytest.Config) -> Iterator[object]:
    chromium = running_playwright(pytestconfig).chromium
    opened = chromium.launch(executable_path=chromium_or_skip(), args=QUIET)
    yield opened
    opened.close()
