"""The pages on a real server and in a real browser."""

from collections.abc import Iterator

import pytest
from kept_plants import ORE_WORKS, SMALL_QUARRY
from pages_server import free_port, start_pages, stop_pages
from remembered_plants import read_kept_plants_once

from dashboard import results_in_use
from dashboard.fleet_results import FleetResults


@pytest.fixture(autouse=True)
def forget(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Let the pages of each test begin with nothing in their cache."""
    monkeypatch.setattr(FleetResults, "read", read_kept_plants_once)
    results_in_use.in_use.forget()
    yield
    results_in_use.in_use.forget()


@pytest.fixture(scope="session")
def pages() -> Iterator[str]:
    """Show a plant as of a day of its own; return the address."""
    port = free_port()
    process = start_pages(SMALL_QUARRY, "--as-of", "2026-06-30", port=port)
    yield f"http://127.0.0.1:{port}"
    stop_pages(process)


@pytest.fixture(scope="module")
def large_pages() -> Iterator[str]:
    """Show the 2,000-unit plant as of a day of its own; return the address."""
    port = free_port()
    process = start_pages(ORE_WORKS, "--as-of", "2026-06-30", port=port)
    yield f"http://127.0.0.1:{port}"
    stop_pages(process)
