"""What is worked out before anybody opens a page, and kept over a restart."""

import time
from importlib import import_module

from dashboard.fleet_results import FleetResults
from dashboard.results_folder import ResultsFolder, usual_folder
from dashboard.results_in_use import in_use, key_of
from scoring.errors import FixableError

FIRST_PAGE_S = 5.0
"""So long, once all is worked out, the first page has the processor to itself. [s]"""

ALSO_ASKED_FOR = ("dashboard.walkdown.http_routes", "dashboard.kept_in_store", "scipy.stats")
"""What other pages import; then nobody waits for it."""


def prepare() -> None:
    """Work out what the pages ask for before anybody opens one, and keep it over a restart."""
    folder = in_use.folder = ResultsFolder(usual_folder())
    try:
        results = in_use.current()
        known = _names(results)
        results.prepare()
        results.finish_trend()
    except FixableError:
        return  # the page that is opened says what is wrong
    if _names(results) != known:
        folder.write(key_of(results), results.for_keeping())


def prepare_what_may_wait() -> None:
    """Make what no first page asks for, once the first page has had the processor to itself."""
    time.sleep(FIRST_PAGE_S)
    for name in ALSO_ASKED_FOR:
        import_module(name)
    if in_use.worked is not None:
        in_use.worked.failure_rows()  # what was found by then, which an earlier day asks for again


def _names(results: FleetResults) -> set[str]:
    return {name for part in results.for_keeping().values() for name in part}
