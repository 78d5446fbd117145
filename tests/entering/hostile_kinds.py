"""All requests that nobody means well by, and what is asked of the answers to them."""

from collections import Counter
from collections.abc import Callable, Iterator

from hostile_bodies import bodies
from hostile_headers import headers
from hostile_hosts import wrong_host
from hostile_methods import methods
from hostile_origins import other_pages
from hostile_paths import paths
from hostile_photos import photos
from hostile_requests import Hostile, Target, code_of
from sqlalchemy import func, select

from scoring.store.open_store import open_store
from scoring.store.schema import METADATA

KINDS: tuple[Callable[[Target], Iterator[Hostile]], ...] = (
    wrong_host,
    other_pages,
    paths,
    methods,
    headers,
    bodies,
    photos,
)


def let_in(
    requests: Iterator[Hostile],
    port: int,
    allowed: Callable[[Hostile], frozenset[int]] = lambda one: one.allowed,
) -> tuple[list[tuple[str, str, int]], Counter]:
    """Send requests; return those that were let in, and how many of each kind were sent."""
    wrong, tried = [], Counter()
    for one in requests:
        code, came = code_of(port, one.sent)
        tried[one.kind] += 1
        if code not in allowed(one) or b"root:" in came or b"\nX-Evil" in came:
            wrong.append((one.kind, one.name, code))
    return wrong, tried


def rows_of(store_url: str) -> dict[str, int]:
    """Count the rows of each table of a store."""
    store = open_store(store_url)
    with store.reading() as connection:
        counted = {
            table.name: connection.scalar(select(func.count()).select_from(table))
            for table in METADATA.sorted_tables
        }
    store.close()
    return counted
