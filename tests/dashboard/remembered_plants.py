"""What pages work out of a kept plant stays for the next test: no test changes such a plant."""

import os

from kept_plants import GRAIN_PORT, ORE_WORKS, SMALL_QUARRY

from dashboard import launch_settings
from dashboard.cut_fleet import WHOLE, Cut
from dashboard.fleet_results import FleetResults
from dashboard.made_once import MadeOnce

READ = FleetResults.read
_KEPT: dict[tuple[str | None, ...], FleetResults] = {}


def read_kept_plants_once(mark: int, cut: Cut = WHOLE) -> FleetResults:
    """Read the fleet that was named; of a kept plant return what was worked out before."""
    reported = tuple(
        os.environ.get(name) for name in (launch_settings.FLEET, launch_settings.AS_OF)
    )
    if cut != WHOLE or reported[0] not in (SMALL_QUARRY, GRAIN_PORT, ORE_WORKS):
        return READ(mark, cut)
    if reported not in _KEPT:
        _KEPT[reported] = READ(mark)
    _KEPT[reported].on_pages = MadeOnce()  # pages lay it out anew, for a test may look at that
    return _KEPT[reported]
