"""Which look at a check stands just before a record, or at the end of all records."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import Check
from scoring.timeline.looks import Looks
from scoring.timeline.resets import MENDED_BY_PARTS, Resets
from scoring.timeline.what_hanging_does import (
    GOOD_IS_LOST,
    OF_SHAFT_AT_HOME,
    WITNESS_MARK,
    in_hangings,
    is_damage,
    lasting_exceedance,
    outlasts_looks,
)

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Days = NDArray[np.datetime64]


@dataclass(frozen=True)
class Endings:
    """What ends a look, in the order in which it happened.

    Attributes
    ----------
    unit, position : ndarray of int, shape (n_endings,)
        As in ``Records``; positions rise.
    day, known_from : ndarray of datetime64[D], shape (n_endings,)
        As in ``Records``.
    cures : ndarray of bool, shape (n_endings,)
        Whether it is reported to have cured the check.
    """

    unit: Ints
    position: Ints
    day: Days
    known_from: Days
    cures: Flags


@dataclass(frozen=True)
class WhatStands:
    """Looks at one check, and the records that may end them, all of them known.

    Attributes
    ----------
    check : Check
        The check.
    looks : Looks
        At this check.
    resets : Resets
        What may end them.
    seated : Looks
        Looks at whether the unit was home.
    seat : Looks
        Looks at the seat on the shaft.
    """

    check: Check
    looks: Looks
    resets: Resets
    seated: Looks
    seat: Looks

    @cached_property
    def at_home(self) -> Flags:
        """Whether the unit was seen home on the hanging of each look; for two checks alone."""
        size = len(self.looks.unit)
        if self.check.name not in OF_SHAFT_AT_HOME or len(self.seated.unit) == 0:
            return np.zeros(size, dtype=bool)
        of_seated = np.searchsorted(self._hung, self.seated.position)
        of_look = np.searchsorted(self._hung, self.looks.position)
        # A unit's first hanging may bear the number of the last one of the unit before it.
        units = int(max(self.looks.unit.max(initial=0), self.seated.unit.max())) + 1
        sought = of_look * units + self.looks.unit
        given = of_seated * units + self.seated.unit
        last = np.maximum(np.searchsorted(given, sought, side="right") - 1, 0)
        home: Flags = (given[last] == sought) & (self.seated.exceedance[last] == 0)
        return home

    @cached_property
    def needs_a_part(self) -> Flags:
        """Whether each look found what only an action that brings the part can cure."""
        return self.at_home | is_damage(self.check, self.looks)

    @cached_property
    def _page(self) -> Ints:
        """A number for each look: looks on one page are held against one another."""
        # What was seen on the visit that saw the seat too is seen with it, and not ended by it.
        page = np.searchsorted(self.ends(damage=True), self.looks.position, side="right")
        if in_hangings(self.check):
            page = page + np.searchsorted(self._hung, self.looks.position)
        turned = np.flatnonzero(
            (self.looks.unit[1:] != self.looks.unit[:-1]) | (page[1:] != page[:-1])
        )
        number: Ints = np.searchsorted(turned, np.arange(len(self.looks.unit)))
        return number

    @property
    def on_last_page(self) -> Flags:
        """Whether each look is on the last page of its unit."""
        last = np.searchsorted(self.looks.unit, self.looks.unit, side="right") - 1
        same: Flags = self._page == self._page[last]
        return same

    @cached_property
    def worst(self) -> Ints:
        """The look that stands with each look: the last of the worst on its page so far."""
        here = np.arange(len(self.looks.unit))
        if not outlasts_looks(self.check):
            return here
        lasting = lasting_exceedance(self.check, self.looks)
        if not lasting.any():
            return here
        worst_so_far = pd.Series(lasting).groupby(self._page).cummax().to_numpy()
        worst: Ints = np.maximum.accumulate(np.where(lasting == worst_so_far, here, 0))
        return worst

    @cached_property
    def _hung(self) -> Ints:
        """Where units were hung anew, in the order of all records."""
        return self.resets.position[self.resets.off_shaft]

    def before(self, unit: Ints, position: Ints) -> Ints:
        """Return which look stands just before some records.

        Parameters
        ----------
        unit, position : ndarray of int, shape (n,)
            Whose they are, and their places in the order of all records.

        Returns
        -------
        ndarray of int, shape (n,)
            Place among the looks; -1 where none stands.
        """
        last = np.searchsorted(self.looks.position, position) - 1
        own = np.flatnonzero(last >= 0)
        own = own[self.looks.unit[last[own]] == unit[own]]
        standing = np.full(len(unit), -1, dtype=np.int64)
        if len(own) == 0:
            return standing
        look, until = self.worst[last[own]], position[own]
        at = self.looks.position[look]
        stands = ~_any_between(self.ends(damage=False), at, until)
        if self.check.name in MENDED_BY_PARTS:
            ended = _any_between(self.ends(damage=True), at, until)
            stands = ~ended & (stands | self.needs_a_part[look])
        if self.check.name in GOOD_IS_LOST:
            hung = _any_between(self._hung, at, until)
            stands &= ~hung | (self.looks.exceedance[look] > 0) | self.at_home[look]
        standing[own[stands]] = look[stands]
        return standing

    @property
    def turns(self) -> Resets:
        """The resets up to which a look after one before tells of that one."""
        some = self.resets.void(self.check.name)
        if self.check.name in GOOD_IS_LOST or in_hangings(self.check):
            some = some | self.resets.off_shaft
        return self.resets.where(some)

    def are_cured(self, resets: Resets, look: Ints) -> Flags:
        """Tell which resets cure what stood before them, from ``before``; -1 for nothing."""
        by_part = np.append(self.needs_a_part, [False])[look]
        name = self.check.name
        return np.where(by_part, resets.cures_damage[name], resets.cures[name])

    def ends(self, *, damage: bool) -> Ints:
        """Return the positions of what ends a look, rising.

        Parameters
        ----------
        damage : bool
            Whether even what only a part mends.
        """
        return self.ending(damage=damage).position

    def ending(self, *, damage: bool) -> Endings:
        """Return what ends a look.

        Parameters
        ----------
        damage : bool
            Whether even what only a part mends.
        """
        return self._endings[damage]

    @cached_property
    def _endings(self) -> tuple[Endings, Endings]:
        usual = self._what_ends(damage=False)
        if self.check.name not in MENDED_BY_PARTS:
            return usual, usual
        return usual, self._what_ends(damage=True)

    def _what_ends(self, *, damage: bool) -> Endings:
        resets, name = self.resets, self.check.name
        some = np.flatnonzero(resets.void(name, damage=damage))
        found = Endings(
            resets.unit[some],
            resets.position[some],
            resets.day[some],
            resets.known_from[some],
            resets.cures[name][some],
        )
        return found if name != WITNESS_MARK else _and_seen(found, self.seat)


def _and_seen(found: Endings, seat: Looks) -> Endings:
    """Return what ends a look, and looks that end it too, in the order in which it happened."""
    order = np.argsort(np.append(found.position, seat.position), kind="stable")
    cures_nothing = np.zeros(len(seat.unit), dtype=bool)
    return Endings(
        np.append(found.unit, seat.unit)[order],
        np.append(found.position, seat.position)[order],
        np.append(found.day, seat.day)[order],
        np.append(found.known_from, seat.known_from)[order],
        np.append(found.cures, cures_nothing)[order],
    )


def _any_between(position: Ints, after: Ints, before: Ints) -> Flags:
    """Tell whether one of some positions, rising, lies between two others and at neither."""
    between: Flags = np.searchsorted(position, after, side="right") < np.searchsorted(
        position, before
    )
    return between
