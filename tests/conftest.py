"""What is started once for all tests of a process: a browser, and a PostgreSQL server."""

import os
from collections.abc import Iterator

os.environ["OPENPYXL_LXML"] = "False"  # lxml comes with a tool of the tests; who uses us has none

import pytest
from postgresql_server import programs, running_server
from quiet_chromium import QUIET, chromium_or_skip


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the tests in a browser first, so that one worker takes them all.

    Workers take from the end of one another's lists. What stands at the end of a list is therefore
    shared out, and each worker would start a browser and servers of its own for it.
    """
    items.sort(key=lambda item: item.get_closest_marker("browser") is None)


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
