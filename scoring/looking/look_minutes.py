"""How long looking takes at each site: our minutes, or a plant's own where it gives them."""

from dataclasses import dataclass, field

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS, Seen
from scoring.contract.look_effort import (
    GUARD_ASIDE,
    LOOK_SETTINGS,
    VISIT_STEPS,
    WAITING_LOCK_OUT,
    WALKING,
)
from scoring.intake import RawTable
from scoring.intake.faults import Faults
from scoring.intake.read_table import read_table
from scoring.records import empty_table
from scoring.what_if.settings_of_sites import find_odd_settings, settings_of_sites
from scoring.what_if.site_efforts import stop_at_faults

Floats = NDArray[np.float64]

STEPS = (*(check.name for check in CHECKS), *(step.name for step in VISIT_STEPS))
"""What takes time: checks, then steps of a visit."""

_USUAL: Floats = np.array([*(c.minutes for c in CHECKS), *(step.minutes for step in VISIT_STEPS)])
_RUNNING = np.array([check.seen is Seen.RUNNING for check in CHECKS])
_BEHIND_GUARD = np.array([check.behind_guard for check in CHECKS])
_NO_SETTINGS = empty_table(LOOK_SETTINGS)


@dataclass(frozen=True)
class LookMinutes:
    """How long looking takes at each site.

    Attributes
    ----------
    settings : DataFrame
        The table ``look_settings``; where it says nothing, our values hold.
    """

    settings: pd.DataFrame = field(default_factory=lambda: _NO_SETTINGS)

    def of_checks(self, site: "pd.Series[str]", check: "pd.Series[str]") -> pd.DataFrame:
        """Return what looking at checks takes.

        Parameters
        ----------
        site, check : Series of str, shape (n_looks,)
            Where each unit stands, and what is looked at.

        Returns
        -------
        DataFrame, shape (n_looks, 3)
            ``minutes`` at the check, ``visit_minutes`` that the visit takes once (walking, and
            lock-out unless the unit runs), ``guard_minutes`` that it takes once more where any
            check lies behind the guard. [min]

        Examples
        --------
        >>> two = pd.Series(["oil_level", "screws_low"])
        >>> LookMinutes().of_checks(pd.Series(["quarry", "quarry"]), two).to_numpy().tolist()
        [[5.0, 30.0, 0.0], [10.0, 30.0, 30.0]]
        """
        code, sites = pd.factorize(site)
        table = self._of_sites(list(sites))
        place = pd.Index(STEPS).get_indexer(pd.Index(check.astype(object)))

        def step(name: str) -> Floats:
            minutes: Floats = table[code, STEPS.index(name)]
            return minutes

        waiting = np.where(_RUNNING[place], 0.0, step(WAITING_LOCK_OUT.name))
        return pd.DataFrame(
            {
                "minutes": table[code, place],
                "visit_minutes": step(WALKING.name) + waiting,
                "guard_minutes": np.where(_BEHIND_GUARD[place], step(GUARD_ASIDE.name), 0.0),
            }
        )

    def _of_sites(self, sites: list[object]) -> Floats:
        """Return the minutes of every step at each site; a site's own word goes first."""
        said = self.settings.assign(step=self.settings["what"], value=self.settings["minutes"])
        return settings_of_sites(_USUAL, STEPS, said, sites)


def read_look_settings(raw: RawTable, sites: "pd.Series[str]") -> LookMinutes:
    """Check a plant's own minutes.

    Parameters
    ----------
    raw : RawTable
        The table ``look_settings`` as found.
    sites : Series of str
        Sites of the fleet.

    Returns
    -------
    LookMinutes

    Raises
    ------
    FaultyRecordsError
        If cells are wrong; every fault is named by its row and column.
    """
    faults = Faults(LOOK_SETTINGS.name, raw.sources)
    frame = read_table(raw, LOOK_SETTINGS, {}, faults).frame
    find_odd_settings(frame, "what", sites, faults)
    stop_at_faults(faults)
    return LookMinutes(frame)
