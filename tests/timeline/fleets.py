"""Small fleets for tests of time: rows of text, as people write them down."""

from dataclasses import dataclass, field

import pandas as pd

from scoring.contract import CHECKS
from scoring.intake import RawTable, check_fleet
from scoring.limits import unit_limits, walkdown_exceedance
from scoring.records import Fleet
from scoring.timeline import Known, Timeline

TODAY = pd.Timestamp("2050-01-01")

Row = dict[str, str]

GOOD: Row = {
    "shaft_end": "reaches",
    "key_condition": "right",
    "arm_bolts": "tight",
    "isolator_stack": "complete",
    "isolators_free": "1",
    "metal_contact": "no",
    "oil_level": "right",
    "guard": "fitted",
}
"""All that must be seen at a keyed bore, and is good."""


@dataclass
class Book:
    """The records of a fleet; a blank cell is an empty text or left out."""

    units: list[Row] = field(default_factory=list)
    walkdowns: list[Row] = field(default_factory=list)
    events: list[Row] = field(default_factory=list)
    rework: list[Row] = field(default_factory=list)
    _timelines: dict[tuple[int, ...], Timeline] = field(default_factory=dict, repr=False)
    _known: dict[tuple[Timeline, str], Known] = field(default_factory=dict, repr=False)

    def unit(self, unit_id: str = "U1", **cells: str) -> "Book":
        usual = {"site": "quarry", "installed_on": "2024-01-01", "mounting": "tapered_bushing"}
        self.units.append({"unit_id": unit_id, **usual, "shaft_diameter_mm": "80", **cells})
        return self

    def look(self, inspected_on: str, unit_id: str = "U1", **cells: str) -> "Book":
        key = f"W{len(self.walkdowns) + 1}"
        usual = {"walkdown_id": key, "unit_id": unit_id, "kind": "post_install"}
        self.walkdowns.append({**usual, "inspected_on": inspected_on, **cells})
        return self

    def failed(self, occurred_on: str, mode: str, unit_id: str = "U1", **cells: str) -> "Book":
        key = f"E{len(self.events) + 1}"
        usual = {"event_id": key, "unit_id": unit_id, "mode": mode}
        self.events.append({**usual, "occurred_on": occurred_on, **cells})
        return self

    def reworked(self, done_on: str, actions: str, unit_id: str = "U1", **cells: str) -> "Book":
        key = f"R{len(self.rework) + 1}"
        usual = {"rework_id": key, "unit_id": unit_id, "actions": actions}
        self.rework.append({**usual, "done_on": done_on, **cells})
        return self

    def fleet(self) -> Fleet:
        """Check the records; a fault in them fails the test."""
        tables = {
            "units": self.units,
            "walkdowns": self.walkdowns,
            "events": self.events,
            "rework": self.rework,
        }
        raw = {name: raw_table(name, rows) for name, rows in tables.items() if rows}
        checked = check_fleet(raw, TODAY)
        assert checked.faults.empty, checked.faults.to_string()
        return checked.fleet

    def timeline(self) -> Timeline:
        """Return the timeline of the records written so far; built once for each state."""
        size = len(self.units), len(self.walkdowns), len(self.events), len(self.rework)
        if size not in self._timelines:
            self._timelines[size] = timeline_of(self.fleet())
        return self._timelines[size]

    def known(self, as_of: str) -> Known:
        timeline = self.timeline()
        if (timeline, as_of) not in self._known:
            self._known[timeline, as_of] = timeline.known(pd.Timestamp(as_of))
        return self._known[timeline, as_of]

    def found(self, check: str, as_of: str) -> object:
        """Return what stands at the first unit in service: a word, a number or None."""
        return plain(self.known(as_of).found[check].iloc[0])

    def status(self, check: str, as_of: str) -> int:
        """Return the status of a check at the first unit in service."""
        return int(self.known(as_of).status[check].iloc[0])

    def history(self, what: str, as_of: str) -> object:
        """Return one column of the history of the first unit in service."""
        return plain(self.known(as_of).history[what].iloc[0])

    def leaks(self, as_of: str) -> list[tuple[str, bool]]:
        """Return day and whether it leaks still, of each leak that no event tells of."""
        leaks = self.timeline().unrecorded_leaks(pd.Timestamp(as_of))
        days = leaks["day"].astype("datetime64[s]").dt.strftime("%Y-%m-%d")
        return list(zip(days, leaks["stands"].tolist(), strict=True))

    def ignored(self, as_of: str) -> list[tuple[str, str, object]]:
        """Return walkdown, check and value of looks that a finding outlasted."""
        rows = self.known(as_of).better_but_ignored.itertuples()
        return [(row.walkdown_id, row.check, row.value) for row in rows]


def raw_table(name: str, rows: list[Row]) -> RawTable:
    """Lay out rows under the headings of all of them."""
    headings = list(dict.fromkeys(key for row in rows for key in row))
    cells = [[row.get(heading, "") for heading in headings] for row in rows]
    return RawTable.from_rows(name, f"{name}.csv", headings, cells)


def exceedance_of_walkdowns(fleet: Fleet) -> pd.DataFrame:
    """Return how bad each value of each walkdown is."""
    limits = unit_limits(fleet.units).table
    place = pd.Index(fleet.units["unit_id"]).get_indexer(pd.Index(fleet.walkdowns["unit_id"]))
    return walkdown_exceedance(fleet.walkdowns, limits.iloc[place].reset_index(drop=True))


def exceedance_by_look(fleet: Fleet) -> dict[tuple[str, str], float]:
    """Return how bad each value is, by walkdown and check."""
    exceedance = exceedance_of_walkdowns(fleet)
    return {
        (walkdown, check.name): bad
        for check in CHECKS
        for walkdown, bad in zip(
            fleet.walkdowns["walkdown_id"], exceedance[check.name], strict=True
        )
    }


def timeline_of(fleet: Fleet) -> Timeline:
    """Return the timeline of a checked fleet."""
    return Timeline(fleet, exceedance_of_walkdowns(fleet))


def plain(value: object) -> object:
    """Return a cell of a frame as a plain value, None where it is missing."""
    if pd.isna(value):
        return None
    return value.strftime("%Y-%m-%d") if isinstance(value, pd.Timestamp) else value
