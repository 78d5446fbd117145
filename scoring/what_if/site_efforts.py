"""What re-work takes at each site: our values, or a plant's own where it gives them."""

from dataclasses import dataclass, field

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.effort import LABOUR_COST_PER_H, SET_UPS, STAND_ON_HOLD
from scoring.contract.rework import ACTIONS
from scoring.contract.rework_settings import REWORK_SETTINGS
from scoring.errors import FaultyRecordsError, FixableError
from scoring.intake import RawTable
from scoring.intake.faults import Faults
from scoring.intake.read_table import read_table
from scoring.records import empty_table
from scoring.what_if.action_arrays import ACTION_NAMES, Flags
from scoring.what_if.parts_needed import ALWAYS_NEEDED
from scoring.what_if.settings_of_sites import find_odd_settings, settings_of_sites

Floats = NDArray[np.float64]

STEPS = (*ACTION_NAMES, *(one.name for one in SET_UPS))
"""What takes time: actions, then set-ups."""

_EFFORTS = tuple(action.effort for action in ACTIONS)

NEEDS: NDArray[np.int64] = np.array(
    [[one.name in effort.set_ups for one in SET_UPS] for effort in _EFFORTS], dtype=np.int64
)
"""Which set-ups each action needs, shape (n_actions, n_set_ups)."""

USUAL: dict[str, Floats] = {
    "hours": np.array([*(e.hours for e in _EFFORTS), *(s.hours for s in SET_UPS)]),
    "people": np.array([*(e.people for e in _EFFORTS), *(s.people for s in SET_UPS)], float),
    "crane": np.array([*(False for _ in _EFFORTS), *(s.crane for s in SET_UPS)], float),
    "lead_days": np.array([*(e.lead_days for e in _EFFORTS), *(0 for _ in SET_UPS)], float),
    "parts_cost": np.array([*(e.parts_cost for e in _EFFORTS), *(0.0 for _ in SET_UPS)]),
    "labour_cost_per_h": np.full(len(STEPS), LABOUR_COST_PER_H),
    "line_stops": np.array([*(e.line_stops for e in _EFFORTS), *(True for _ in SET_UPS)], float),
}
"""Planning values of ours for each step."""

_NO_SETTINGS = empty_table(REWORK_SETTINGS)


@dataclass(frozen=True)
class SiteEfforts:
    """What re-work takes at each site.

    Attributes
    ----------
    settings : DataFrame
        The table ``rework_settings``; where it says nothing, our values hold.
    """

    settings: pd.DataFrame = field(default_factory=lambda: _NO_SETTINGS)

    def work(
        self, site: "pd.Series[str]", actions: Flags, parts: Flags | None = None
    ) -> pd.DataFrame:
        """Return what re-work takes, every set-up once.

        Parameters
        ----------
        site : Series of str, shape (n_rows,)
            Where each unit stands.
        actions : ndarray of bool, shape (n_rows, n_actions)
            What is done, brought actions included.
        parts : ndarray of bool, shape (n_rows, n_actions), optional
            Which need their parts there, from ``parts_needed``; by default those that always do.

        Returns
        -------
        DataFrame, shape (n_rows, 6)
            ``hours`` of one person [h], ``people`` at once [-], ``crane`` and ``line_stops``,
            ``lead_days`` of the part that comes last [d], ``cost`` of parts, hire and
            labour [currency].

        Examples
        --------
        Two jobs behind one guard share the lock-out and the guard.

        >>> from scoring.what_if.action_arrays import actions_of
        >>> both = actions_of("retorque_in_passes;tighten_retention")[np.newaxis]
        >>> SiteEfforts().work(pd.Series(["quarry"]), both)["hours"].tolist()
        [6.0]
        """
        code, sites = pd.factorize(site)
        done = np.hstack([actions, (actions.astype(np.int64) @ NEEDS) > 0])
        with_parts = done.copy()
        with_parts[:, : len(ACTION_NAMES)] &= ALWAYS_NEEDED if parts is None else parts
        of_site = {name: self._of_sites(name, list(sites))[code] for name in USUAL}
        hours = np.where(done, of_site["hours"], 0.0)
        labour = (hours * of_site["labour_cost_per_h"]).sum(axis=1)

        def most(name: str, done: Flags = done) -> Floats:
            highest: Floats = np.where(done, of_site[name], 0.0).max(axis=1, initial=0.0)
            return highest

        return pd.DataFrame(
            {
                "hours": hours.sum(axis=1),
                "people": most("people").astype(np.int64),
                "crane": most("crane") > 0,
                "line_stops": most("line_stops") > 0,
                "lead_days": most("lead_days", with_parts).astype(np.int64),
                "cost": np.where(with_parts, of_site["parts_cost"], 0.0).sum(axis=1) + labour,
            }
        )

    def standing_cost(self, site: "pd.Series[str]") -> Floats:
        """Return what a unit on hold costs a day while it stands still; missing where not counted.

        Parameters
        ----------
        site : Series of str, shape (n_rows,)
            Where each unit stands.

        Returns
        -------
        ndarray, shape (n_rows,)
            By default missing everywhere. [currency/d]
        """
        code, sites = pd.factorize(site)
        said = self.settings.assign(
            step=self.settings["action"], value=self.settings["standing_cost_per_day"]
        ).dropna(subset="value")
        of_site = settings_of_sites(np.array([np.nan]), (STAND_ON_HOLD,), said, list(sites))
        cost: Floats = of_site[code, 0]
        return cost

    def _of_sites(self, name: str, sites: list[str]) -> Floats:
        """Return one setting of every step at each site; a site's own word goes first."""
        values = self.settings[name]
        if values.dtype == "category":  # no, yes
            values = values.cat.codes.where(values.notna()).astype(np.float64)
        said = self.settings.assign(step=self.settings["action"], value=values)
        return settings_of_sites(USUAL[name], STEPS, said.dropna(subset="value"), sites)


def read_settings(raw: RawTable, sites: "pd.Series[str]") -> SiteEfforts:
    """Check a plant's own settings of re-work.

    Parameters
    ----------
    raw : RawTable
        The table ``rework_settings`` as found.
    sites : Series of str
        Sites of the fleet.

    Returns
    -------
    SiteEfforts

    Raises
    ------
    FaultyRecordsError
        If cells are wrong; every fault is named by its row and column.
    """
    faults = Faults(REWORK_SETTINGS.name, raw.sources)
    read = read_table(raw, REWORK_SETTINGS, {}, faults)
    frame = read.frame
    find_odd_settings(frame, "action", sites, faults)
    _find_misplaced(frame, faults)
    stop_at_faults(faults)
    return SiteEfforts(frame)


def _find_misplaced(frame: pd.DataFrame, faults: Faults) -> None:
    """Add a fault where standing still is to take work, or work has a cost of standing still."""
    stands = (frame["action"] == STAND_ON_HOLD).to_numpy()
    for name, here in (
        *((name, stands) for name in USUAL),
        ("standing_cost_per_day", ~stands),
    ):
        belongs = "an action or set-up" if name != "standing_cost_per_day" else STAND_ON_HOLD
        given = frame[name].notna().to_numpy() & here & frame["action"].notna().to_numpy()
        for row, value in zip(frame["row"][given], frame[name][given], strict=True):
            faults.add_one(row, name, str(value), f"belongs to {belongs} alone", "leave it blank")


MOST_FAULTS = 20
"""Faults shown in one message. Ours."""


def stop_at_faults(faults: Faults) -> None:
    """Stop where anything was wrong, naming rows and columns.

    Raises
    ------
    FaultyRecordsError
        If there is a fault.
    """
    found = faults.frame()
    if found.empty:
        return
    lines = [
        f"{fault['source']}, row {fault['row']}, {fault['column'] or 'the whole row'}: "
        f"{fault['value']!r} {fault['wrong']}; {fault['right']}"
        for fault in found.head(MOST_FAULTS).to_dict("records")
    ]
    more = len(found) - len(lines)
    raise FaultyRecordsError("\n  ".join(["", *lines]) + (f"\n  and {more} more" if more else ""))


def refuse_unknown_site(site: str, sites: "pd.Series[str]") -> None:
    """Refuse a site that no unit stands at.

    Raises
    ------
    FixableError
        If there is none of that name.
    """
    if not (sites == site).any():
        known = ", ".join(sorted(map(str, sites.unique())))
        raise FixableError(f"no unit in service stands at {site!r}; sites are {known}")
