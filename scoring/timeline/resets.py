"""What makes an earlier look void: re-work that cures, and hanging a unit anew."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract import CHECKS
from scoring.contract.events import JOINT_SLIP, LOW_SPEED_BEARING, SEAL_LEAK
from scoring.contract.rework import ACTIONS, BEARING, SEAL, Action, with_brought
from scoring.records import Fleet
from scoring.timeline.last_per_unit import latest_position
from scoring.timeline.order import Records

CHECK_NAMES = tuple(check.name for check in CHECKS)
MADE_ANEW = frozenset(check.name for check in CHECKS if check.made_anew_by_hanging)
"""Whatever was seen of these: once the unit was hung anew, nobody has seen them."""

BEARING_SYMPTOMS = tuple(check.name for check in CHECKS if check.tells_of == BEARING)
"""Symptoms that speak of a bearing; a new bearing makes an earlier look void."""

MENDED_BY_PARTS = frozenset(name for action in ACTIONS for name in action.cures_damage)
"""Checks that may show what only an action that brings the part can cure."""

_ON_FAILURE = {
    LOW_SPEED_BEARING: Action(
        name="bearing replacement",
        does="",
        cures=("seal_weep", "seal_lip", "oil_condition"),
        renews=(BEARING, SEAL),
        cures_damage=("oil_condition",),
        off_shaft=True,
    ),
    SEAL_LEAK: Action(
        name="seal replacement", does="", cures=("seal_weep", "seal_lip"), renews=(SEAL,)
    ),
    JOINT_SLIP: Action(name="repair of a joint that slipped", does="", off_shaft=True),
}
"""A failure is written down with its repair: bearing or seal were replaced, a joint was redone."""


@dataclass(frozen=True)
class Resets:
    """Records that changed something, in the order of ``position``.

    Attributes
    ----------
    unit, position : ndarray of int, shape (n_resets,)
        As in ``Records``; positions rise.
    day, known_from : ndarray of datetime64[D], shape (n_resets,)
        As in ``Records``.
    off_shaft, new_bearing, new_seal : ndarray of bool, shape (n_resets,)
        Whether the unit was hung anew; whether bearing or seal are new.
    cures, cures_damage : dict of str to ndarray of bool, shape (n_resets,)
        For each check whether it is reported cured; whether even what only a part mends.
    crew, crew_of_event : ndarray of str or None, shape (n_resets,)
        Who did it; who repaired the failure that the re-work names.
    event_known_from : ndarray of datetime64[D], shape (n_resets,)
        From when on that failure is known; missing where none is named.
    """

    unit: NDArray[np.int64]
    position: NDArray[np.int64]
    day: NDArray[np.datetime64]
    known_from: NDArray[np.datetime64]
    off_shaft: NDArray[np.bool_]
    new_bearing: NDArray[np.bool_]
    new_seal: NDArray[np.bool_]
    cures: dict[str, NDArray[np.bool_]]
    cures_damage: dict[str, NDArray[np.bool_]]
    crew: NDArray[np.object_]
    crew_of_event: NDArray[np.object_]
    event_known_from: NDArray[np.datetime64]

    def crew_as_of(self, today: np.datetime64) -> NDArray[np.object_]:
        """Return who did it, else who is known by a day to have repaired the failure it names."""
        from_event = pd.isna(self.crew) & (self.event_known_from <= today)
        return np.where(from_event, self.crew_of_event, self.crew)

    def void(self, check: str, *, damage: bool = False) -> NDArray[np.bool_]:
        """Return which of them end whatever was seen of a check, good or bad.

        Parameters
        ----------
        check : str
            Its name.
        damage : bool
            Whether even what only a part mends.
        """
        flag = (self.cures_damage if damage and check in MENDED_BY_PARTS else self.cures)[check]
        if check in MADE_ANEW:
            flag = flag | self.off_shaft
        if check in BEARING_SYMPTOMS:
            flag = flag | self.new_bearing
        return flag

    def where(self, keep: NDArray[np.bool_] | slice) -> "Resets":
        """Return some of the resets; itself, where a mask keeps all."""
        if not isinstance(keep, slice) and keep.all():
            return self
        return Resets(
            unit=self.unit[keep],
            position=self.position[keep],
            day=self.day[keep],
            known_from=self.known_from[keep],
            off_shaft=self.off_shaft[keep],
            new_bearing=self.new_bearing[keep],
            new_seal=self.new_seal[keep],
            cures={name: flag[keep] for name, flag in self.cures.items()},
            cures_damage={name: flag[keep] for name, flag in self.cures_damage.items()},
            crew=self.crew[keep],
            crew_of_event=self.crew_of_event[keep],
            event_known_from=self.event_known_from[keep],
        )

    @cached_property
    def hung(self) -> "Resets":
        """Those that hung a unit anew; asked for by check after check."""
        return self.where(self.off_shaft)


def find_resets(fleet: Fleet, records: Records) -> Resets:
    """Find the records that make earlier looks void.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    records : Records
        Their order.

    Returns
    -------
    Resets
    """
    what = pd.concat([fleet.events["mode"].astype(object), fleet.rework["actions"].astype(object)])
    side = pd.concat([frame["seal_side"].astype(object) for frame in (fleet.events, fleet.rework)])
    record = np.concatenate(
        [
            np.arange(records.of_table[name].start, records.of_table[name].stop)
            for name in ("events", "rework")
        ]
    )
    crew = np.concatenate(
        [fleet.events["crew"].to_numpy(object), fleet.rework["crew"].to_numpy(object)]
    )
    crew_of_event, event_known_from = _repaired_events(fleet, records)
    code, distinct = pd.factorize((what + "/" + side.fillna("")).to_numpy())
    parts = [str(text).partition("/") for text in distinct]
    actions, sides = [_actions_of(text) for text, _, _ in parts], [of for _, _, of in parts]
    changes = np.array([bool(a) for a in actions], dtype=bool)[code]
    keep = np.flatnonzero(changes)  # a failure of another mode changes nothing
    keep = keep[np.argsort(records.position[record[keep]])]

    kept = code[keep]

    def flag(of_one: list[bool]) -> NDArray[np.bool_]:
        flags: NDArray[np.bool_] = np.array(of_one, dtype=bool)[kept]
        return flags

    return Resets(
        unit=records.unit[record[keep]],
        position=records.position[record[keep]],
        day=records.day[record[keep]],
        known_from=records.known_from[record[keep]],
        off_shaft=flag(
            [
                any(a.comes_off(of_side) for a in some)
                for some, of_side in zip(actions, sides, strict=True)
            ]
        ),
        new_bearing=flag([any(BEARING in a.renews for a in some) for some in actions]),
        new_seal=flag([any(SEAL in a.renews for a in some) for some in actions]),
        cures={
            name: flag([any(name in a.cures for a in some) for some in actions])
            for name in CHECK_NAMES
        },
        cures_damage={
            name: flag([any(name in a.cures_damage for a in some) for some in actions])
            for name in CHECK_NAMES
        },
        crew=crew[keep],
        crew_of_event=crew_of_event[keep],
        event_known_from=event_known_from[keep],
    )


def _repaired_events(
    fleet: Fleet, records: Records
) -> tuple[NDArray[np.object_], NDArray[np.datetime64]]:
    """Return crew and first known day of the event that each event or re-work repairs."""
    events = pd.Index(fleet.events["event_id"])
    named = events.get_indexer(pd.Index(fleet.rework["event_id"]))
    place = np.append(np.full(len(events), -1), named)
    crew = np.append(fleet.events["crew"].to_numpy(object), np.array([None], dtype=object))
    known = records.known_from[records.of_table["events"]]
    return crew[place], np.append(known, np.datetime64("NaT", "D"))[place]


_NAMES = frozenset(action.name for action in ACTIONS)


def _actions_of(text: str) -> list[Action]:
    """Return the actions that a cell of ``actions``, or the mode of a failure, stands for."""
    if text in _ON_FAILURE:
        return [_ON_FAILURE[text]]
    return [a for name in text.split(";") if name in _NAMES for a in with_brought(name)]


@dataclass(frozen=True)
class LatestResets:
    """Position of the latest of each kind of reset, -1 where a unit has none.

    Attributes
    ----------
    off_shaft, new_bearing, new_seal : ndarray of int, shape (n_units,)
        Of the latest re-hang, new bearing, new seal.
    cure : dict of str to ndarray of int, shape (n_units,)
        For each check, of the latest reported cure.
    """

    off_shaft: NDArray[np.int64]
    new_bearing: NDArray[np.int64]
    new_seal: NDArray[np.int64]
    cure: dict[str, NDArray[np.int64]]

    @classmethod
    def as_of(cls, resets: Resets, today: np.datetime64, size: int) -> "LatestResets":
        """Return the latest resets that were known by the end of a day."""
        known = resets.known_from <= today

        def latest(flag: NDArray[np.bool_]) -> NDArray[np.int64]:
            keep = flag & known
            return latest_position(resets.unit[keep], resets.position[keep], size)

        return cls(
            latest(resets.off_shaft),
            latest(resets.new_bearing),
            latest(resets.new_seal),
            {name: latest(flag) for name, flag in resets.cures.items()},
        )
