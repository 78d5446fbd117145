"""What is started once for all tests of a process: a browser, and a PostgreSQL server."""

import os
from collections.abc import Iterator

import pytest
from postgresql_server import programs, running_server
from quiet_chromium import QUIET, chromium_or_skip


@pytest.fixture(scope="session")
def chromium() -> str:
    return chromium_or_skip()


@pytest.fixture(scope="session")
def playwright() -> Iterator[object]:
    """Start playwright; two of its loops cannot run in a process at the same time."""
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - only where needed

    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright, chromium: str) -> Iterator[object]:
    opened = playwright.chromium.launch(executable_path=chromium, args=QUIET)
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def postgresql() -> Iterator[str]:
    """Start a server; return its address without a database."""
    if programs() is None:
        missing = "PostgreSQL is not installed: apt-get install postgresql"
        if os.environ.get("CI"):
            pytest.fail(missing)
        pytest.skip(missing)
    with running_server() as address:
        yield address
