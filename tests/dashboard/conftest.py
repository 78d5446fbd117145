"""The pages on a real server and in a real browser."""

from collections.abc import Iterator

import pytest
from kept_plants import GRAIN_PORT, ORE_WORKS
from pages_server import free_port, start_pages, stop_pages


@pytest.fixture(scope="session")
def pages() -> Iterator[str]:
    """Show a plant as of a day of its own; return the address."""
    port = free_port()
    process = start_pages(GRAIN_PORT, "--as-of", "2026-06-30", port=port)
    yield f"http://127.0.0.1:{port}"
    stop_pages(process)


@pytest.fixture(scope="module")
def large_pages() -> Iterator[str]:
    """Show the 2,000-unit plant as of a day of its own; return the address."""
    port = free_port()
    process = start_pages(ORE_WORKS, "--as-of", "2026-06-30", port=port)
    yield f"http://127.0.0.1:{port}"
    stop_pages(process)
