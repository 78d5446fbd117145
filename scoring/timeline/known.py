"""What was known of each unit as of a day."""

from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.records import PartOfUnits, has_mounting, units_with


class Status(IntEnum):
    """What is known of a check."""

    NOT_SEEN = 0
    SEEN = 1
    REPORTED_CURED = 2


@dataclass(frozen=True)
class Known:
    """What was known of the units in service by the end of a day.

    All frames have one row for each unit, in the order of ``units``.

    Attributes
    ----------
    as_of : Timestamp
        The day.
    units : DataFrame
        The units in service, from the table ``units``.
    place : ndarray of int
        Place of each in ``Fleet.units``.
    found : DataFrame
        A column for each check: the value that stands; missing unless seen.
    exceedance : DataFrame
        How far it lies beyond what is good; missing unless seen.
    status : DataFrame of int8
        A ``Status`` for each check.
    seen_on : DataFrame of datetime64[s]
        When the value that stands was seen, or the cure reported.
    history : DataFrame
        ``crew`` that hung it last, ``hung_on``, ``bearing_age_days`` and ``seal_age_days`` in
        service, ``joint_age_days`` in service since it was hung, ``leak_since`` where a leak
        stands, ``failures_recorded_from``; details of looks: ``contact_at``, the places with ``;``
        between, and ``seal_side``;
        ``engagement_mm_at_home`` and ``shaft_end_at_home``: whether the unit was seen home on the
        hanging on which what stands was seen, so that it tells of the shaft.
    better_but_ignored : DataFrame
        Looks at a hanging check that found it better without a re-hang: ``unit_id``,
        ``walkdown_id``, ``check``, ``value``, ``standing``.
    hypothetical : HypotheticalRework or None
        Re-work that is only hypothetical; None for what is on record.
    """

    as_of: pd.Timestamp
    units: pd.DataFrame
    place: np.ndarray[tuple[int], np.dtype[np.int64]]
    found: pd.DataFrame
    exceedance: pd.DataFrame
    status: pd.DataFrame
    seen_on: pd.DataFrame
    history: pd.DataFrame
    better_but_ignored: pd.DataFrame
    hypothetical: "HypotheticalRework | None" = None

    def mounted(self, mountings: tuple[str, ...]) -> NDArray[np.bool_]:
        """Tell which units have one of some mountings; it is asked for each rule and check.

        Parameters
        ----------
        mountings : tuple of str
            The mountings.

        Returns
        -------
        ndarray of bool, shape (n_units,)
            The same one whenever it is asked: not to be written into.
        """
        if mountings not in self._mounted:
            self._mounted[mountings] = has_mounting(self.units, mountings)
        return self._mounted[mountings]

    def having(self, part: PartOfUnits) -> NDArray[np.bool_]:
        """Tell which units have something, such as what a check looks at; as ``units_with``."""
        key = part.mountings, part.only_where
        if not part.only_where:
            return self.mounted(part.mountings)
        if key not in self._having:
            self._having[key] = units_with(part, self.units)
        return self._having[key]

    def at(self, rows: NDArray[np.int64]) -> "Known":
        """Return what is known of some of the units, which may come again and again.

        Parameters
        ----------
        rows : ndarray of int, shape (n_rows,)
            Places in ``units``.

        Returns
        -------
        Known
            Without ``better_but_ignored``.
        """

        def those(frame: pd.DataFrame) -> pd.DataFrame:
            return frame.iloc[rows].reset_index(drop=True)

        rework = self.hypothetical
        return Known(
            as_of=self.as_of,
            units=those(self.units),
            place=self.place[rows],
            found=those(self.found),
            exceedance=those(self.exceedance),
            status=those(self.status),
            seen_on=those(self.seen_on),
            history=those(self.history),
            better_but_ignored=self.better_but_ignored.iloc[:0],
            hypothetical=None
            if rework is None
            else HypotheticalRework(rework.before.at(rows), those(rework.success)),
        )

    @cached_property
    def worked_out(self) -> dict[str, object]:
        """What was worked out once of these units for all who ask, by name."""
        return {}

    @cached_property
    def _mounted(self) -> dict[tuple[str, ...], NDArray[np.bool_]]:
        return {}

    @cached_property
    def _having(self) -> dict[tuple[tuple[str, ...], str], NDArray[np.bool_]]:
        return {}


@dataclass(frozen=True)
class HypotheticalRework:
    """Re-work that is only hypothetical: what it would be done to, and whether it succeeds.

    A check that it cures is good with the chance that it succeeds; else it is as without it.

    Attributes
    ----------
    before : Known
        The same units, as they would be known if no cure succeeded: hung anew, where they are.
    success : DataFrame, shape (n_units, n_checks)
        For each check the chance that its cure succeeds; missing where nothing cures it. [-]
    """

    before: Known
    success: pd.DataFrame
