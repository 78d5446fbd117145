"""The records of a fleet in order, ready to tell what was known as of any day."""

from collections.abc import Mapping
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import DTypeLike, NDArray

from scoring.contract import CHECKS
from scoring.records import Fleet
from scoring.timeline.ages import Hangings, days_on_the_shaft
from scoring.timeline.check_state import CheckState, state_of_check
from scoring.timeline.details_known import details_known
from scoring.timeline.in_service import places_in_service
from scoring.timeline.known import Known
from scoring.timeline.late_records import known_part, spans_of_another_order
from scoring.timeline.leaks import leaks_seen, reported_from, unrecorded_leaks, without_reported
from scoring.timeline.looks import looks_at_checks
from scoring.timeline.order import Records, order_records
from scoring.timeline.resets import LatestResets, find_resets
from scoring.timeline.slipped_seats import Said, said_and_slipped, slipped_seats
from scoring.timeline.slips import slips_seen
from scoring.timeline.what_hanging_does import (
    OF_SHAFT_AT_HOME,
    SEATED,
    SHAFT_SEAT,
    WITNESS_MARK,
    at_home_column,
    outlasts_looks,
)
from scoring.timeline.what_stands import WhatStands

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Days = NDArray[np.datetime64]


class Timeline:
    """The records of a fleet in order.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    exceedance : DataFrame, shape (n_walkdowns, n_checks)
        How bad each value of each walkdown is, from ``scoring.limits.walkdown_exceedance``.
    records : Records, optional
        From ``order_records`` of this fleet, where somebody has put them in order already.

    Attributes
    ----------
    slipped_seats : Looks
        Slips on record, each as a look at the seat on the shaft.
    other_orders : tuple of ndarray
        Units, and since and until when their known records stood in another order.
    """

    def __init__(
        self, fleet: Fleet, exceedance: pd.DataFrame, records: Records | None = None
    ) -> None:
        self.fleet = fleet
        self.exceedance = exceedance
        self.records = order_records(fleet) if records is None else records
        self.resets = find_resets(fleet, self.records)
        self.looks = looks_at_checks(self.records, exceedance)
        self.slipped_seats = slipped_seats(fleet, self.records)
        self._day_at: Days = self.records.day[self.records.record_at]
        self.other_orders = spans_of_another_order(self.records)

    def said_and_found(self, check: str) -> tuple[Said, Floats]:
        """Return what walkdowns, and of the seat slips, say of a check, and how bad that is.

        Parameters
        ----------
        check : str
            Name of the check.

        Returns
        -------
        tuple of array, shape (n_rows,)
            Rows as in ``Looks``.
        """
        if check != SHAFT_SEAT:
            bad: Floats = self.exceedance[check].to_numpy(dtype=np.float64)
            return said_and_slipped(check, self.fleet), bad
        return self._seats

    @cached_property
    def _seats(self) -> tuple[Said, Floats]:
        worst = float(self.slipped_seats.exceedance.max(initial=0.0))
        bad = self.exceedance[SHAFT_SEAT].to_numpy(dtype=np.float64)
        of_slips = np.full(len(self.fleet.events), worst)
        return said_and_slipped(SHAFT_SEAT, self.fleet), np.concatenate([bad, of_slips])

    @cached_property
    def reported_from(self) -> Days:
        """From when on an event is known to tell of what each look at the seal saw dripping."""
        return reported_from(self.fleet, self.records, self.looks["seal_weep"])

    def unrecorded_leaks(self, as_of: pd.Timestamp) -> pd.DataFrame:
        """Return the leaks seen dripping by the end of a day that no event tells of.

        Returns
        -------
        DataFrame
            ``unit``: place in ``Fleet.units``; ``day``; ``stands``: whether it leaks still.
        """
        then = self.in_the_order_known(as_of)
        return unrecorded_leaks(
            then.fleet, then.records, then.resets, then.looks["seal_weep"], _day(as_of)
        )

    def leaks_seen(self, as_of: pd.Timestamp) -> pd.DataFrame:
        """Return the leaks seen dripping by the end of a day before any event told of them.

        Returns
        -------
        DataFrame
            ``unit``: place in ``Fleet.units``; ``day``; ``renewed_on``: missing where it leaks
            still; ``by_event``: whether it was renewed by an event that tells of the leak.
        """
        then = self.in_the_order_known(as_of)
        return leaks_seen(
            then.fleet, then.records, then.resets, then.looks["seal_weep"], _day(as_of)
        )

    def slips_seen(self, as_of: pd.Timestamp) -> pd.DataFrame:
        """Return the slips that a witness mark told of by the end of a day before any event did.

        Returns
        -------
        DataFrame
            ``unit``: place in ``Fleet.units``; ``day``; ``ended_on``: missing where it stands.
        """
        then = self.in_the_order_known(as_of)
        looks = then.looks[WITNESS_MARK], then.looks[SHAFT_SEAT]
        return slips_seen(then.fleet, then.records, then.resets, looks, _day(as_of))

    def in_the_order_known(self, as_of: pd.Timestamp) -> "Timeline":
        """Return the records in the order known by the end of a day, later ones perhaps left out.

        Parameters
        ----------
        as_of : Timestamp
            The day.

        Returns
        -------
        Timeline
            Itself, where what was written down later changes no order.
        """
        return self._of_what_was_known(as_of) if self._was_in_another_order(as_of) else self

    def known(self, as_of: pd.Timestamp) -> Known:
        """Return what was known of the units in service by the end of a day.

        Parameters
        ----------
        as_of : Timestamp
            The day.

        Returns
        -------
        Known
        """
        as_of = as_of.normalize()
        if self._was_in_another_order(as_of):
            return self._of_what_was_known(as_of).known(as_of)
        units = self.fleet.units
        latest = LatestResets.as_of(self.resets, _day(as_of), len(units))
        in_order = self.records.unit[self.records.record_at]
        until = np.searchsorted(in_order, np.arange(len(units)), side="right")
        states = {
            name: state_of_check(stands, latest, until, self._day_at, as_of)
            for name, stands in self.what_stands(as_of).items()
        }
        place = places_in_service(units, as_of)
        at_home = {at_home_column(name): states[name].at_home for name in OF_SHAFT_AT_HOME}
        return Known(
            as_of=as_of,
            units=units.iloc[place].reset_index(drop=True),
            place=place,
            found=pd.DataFrame({n: self._values(n, s.row[place]) for n, s in states.items()}),
            exceedance=_frame({n: s.exceedance[place] for n, s in states.items()}, np.float64),
            status=_frame({n: s.status[place] for n, s in states.items()}, np.int8),
            seen_on=_frame({n: s.seen_on[place] for n, s in states.items()}, "datetime64[s]"),
            history=self._history(latest, as_of, at_home).iloc[place].reset_index(drop=True),
            better_but_ignored=self._ignored(states, place),
        )

    def what_stands(self, as_of: pd.Timestamp) -> dict[str, WhatStands]:
        """Return the looks at each check and what may end them, as known by the end of a day.

        Parameters
        ----------
        as_of : Timestamp
            The day, on which no record stood in another order.

        Returns
        -------
        dict of str to WhatStands
            A slip counts as a look at the seat on the shaft; a look that saw the leak of which an
            event of that day tells is left out.
        """
        today = _day(as_of)
        resets = self.resets.where(self.resets.known_from <= today)
        seal = without_reported(self.fleet, self.records, self.looks["seal_weep"], today)
        seat = self.looks[SHAFT_SEAT].joined(self.slipped_seats)
        looks = {
            name: some.where(some.known_from <= today)
            for name, some in (self.looks | {"seal_weep": seal, SHAFT_SEAT: seat}).items()
        }
        seen = self.looks[SHAFT_SEAT].where(self.looks[SHAFT_SEAT].known_from <= today)
        return {
            check.name: WhatStands(check, looks[check.name], resets, looks[SEATED], seen)
            for check in CHECKS
        }

    def row_of_rework(self, position: Ints) -> Ints:
        """Return the row of the table ``rework`` of records at some positions; -1 for others."""
        record, part = self.records.record_at[position], self.records.of_table["rework"]
        here = (record >= part.start) & (record < part.stop)
        return np.where(here, record - part.start, -1).astype(np.int64)

    def _was_in_another_order(self, as_of: pd.Timestamp) -> bool:
        _, since, until = self.other_orders
        today = _day(as_of)
        return bool(((since <= today) & (today < until)).any())

    def _of_what_was_known(self, as_of: pd.Timestamp) -> "Timeline":
        return Timeline(*known_part(self.fleet, self.exceedance, self.records, _day(as_of)))

    def _values(self, check: str, row: Ints) -> Said:
        """Return the values that stand, missing where none does."""
        said = said_and_slipped(check, self.fleet)
        stands: Said = pd.api.extensions.take(said, row, allow_fill=True)  # type: ignore[assignment]
        return stands

    def _history(
        self, latest: LatestResets, as_of: pd.Timestamp, at_home: dict[str, NDArray[np.bool_]]
    ) -> pd.DataFrame:
        units, today = self.fleet.units, _day(as_of)
        hung = self._day_of(latest.off_shaft)
        hung_on = np.where(
            np.isnat(hung), units["installed_on"].to_numpy().astype(hung.dtype), hung
        )
        everyone = np.arange(len(units))
        leaks = self.unrecorded_leaks(as_of)
        standing = leaks[leaks["stands"]]
        leak_since = np.full(len(units), np.datetime64("NaT"), dtype="datetime64[D]")
        leak_since[standing["unit"].to_numpy()] = standing["day"].to_numpy()
        bearing_age, seal_age = (
            self.hangings.ages(self._day_of(renewed), today)
            for renewed in (latest.new_bearing, latest.new_seal)
        )
        started = units["started_on"].fillna(units["installed_on"])
        return pd.DataFrame(
            {
                "crew": self._crew(latest, today),
                "hung_on": hung_on.astype("datetime64[s]"),
                "bearing_age_days": bearing_age,
                "seal_age_days": seal_age,
                "joint_age_days": days_on_the_shaft(units, everyone, hung_on, today),
                "leak_since": leak_since.astype("datetime64[s]"),
                "failures_recorded_from": units["failures_recorded_from"].fillna(started),
                **details_known(self.fleet, self.records, self.looks, latest.cure, today),
                **at_home,
            }
        )

    @cached_property
    def hangings(self) -> Hangings:
        """The units, each reducer from shaft to shaft."""
        return Hangings(self.fleet.units)

    def _crew(self, latest: LatestResets, today: np.datetime64) -> NDArray[np.object_]:
        """Return the crew that hung each unit last."""
        crew = self.fleet.units["installer"].to_numpy(dtype=object).copy()
        anew = latest.off_shaft >= 0
        which = np.searchsorted(self.resets.position, latest.off_shaft[anew])
        crew[anew] = self.resets.crew_as_of(today)[which]
        return crew

    def _day_of(self, position: Ints) -> Days:
        """Return the day of the record at each position, missing for -1."""
        days = np.append(self._day_at, np.datetime64("NaT", "D"))
        out: Days = days[position]
        return out

    def _ignored(self, states: Mapping[str, CheckState], place: Ints) -> pd.DataFrame:
        """Return the looks, at units in service, that a finding outlasted."""
        units, walkdowns = self.fleet.units, self.fleet.walkdowns
        in_service = np.zeros(len(units), dtype=bool)
        in_service[place] = True
        unit, row = [np.empty(0, dtype=np.int64)], [np.empty(0, dtype=np.int64)]
        words: list[list[NDArray[np.object_]]] = [[np.empty(0, dtype=object)] for _ in range(3)]
        for check in CHECKS:
            if not outlasts_looks(check):
                continue
            here = np.flatnonzero(in_service[states[check.name].ignored[0]])
            if len(here) == 0:
                continue
            of_check, better, standing = (one[here] for one in states[check.name].ignored)
            said = said_and_slipped(check.name, self.fleet)
            unit.append(of_check)
            row.append(better)
            words[0].append(np.full(len(here), check.name, dtype=object))
            for values, rows in zip(words[1:], (better, standing), strict=True):
                values.append(np.asarray(said.take(rows), dtype=object))
        name, value, stands = (np.concatenate(some) for some in words)
        return pd.DataFrame(
            {
                "unit_id": units["unit_id"].array.take(np.concatenate(unit)),
                "walkdown_id": walkdowns["walkdown_id"].array.take(np.concatenate(row)),
                "check": pd.array(name, dtype="str"),
                # words and numbers stand in one column
                "value": pd.Series(value, dtype=object),
                "standing": pd.Series(stands, dtype=object),
            }
        )


def _frame(columns: Mapping[str, NDArray[Any]], dtype: DTypeLike) -> pd.DataFrame:
    """Make a frame of columns of one dtype: one block, and its columns can be had without cost."""
    table = np.array(list(columns.values()), dtype=dtype)
    return pd.DataFrame(table.T, columns=list(columns), copy=False)


def _day(as_of: pd.Timestamp) -> np.datetime64:
    return np.datetime64(as_of.date(), "D")
