"""The life of one unit, told day by day: plain loops, slow, easy to read through."""

from dataclasses import dataclass
from datetime import date, timedelta

from fleets import Book, Row
from naive_timeline import _in_order as records_in_order
from naive_timeline import day_of

EPOCH_END = "9999-12-31"


@dataclass
class Day:
    """One day of a unit of which something is written down."""

    bearing_at_risk: bool
    bearing_failed: bool
    seal_at_risk: bool
    seal_failed: bool
    slip_at_risk: bool
    slipped: bool


def failures_are_kept(book: Book, as_of: date) -> bool:
    said = any(unit.get("failures_recorded_from") for unit in book.units)
    return said or any(recorded_by(row, "occurred_on", as_of) for row in book.events)


def recorded_by(row: Row, day: str, as_of: date) -> bool:
    return max(day_of(row[day]), day_of(row.get("recorded_at") or row[day])) <= as_of


def observed(unit: Row, as_of: date, *, kept: bool) -> tuple[set[date], set[date]]:
    """Return the days on which failures, and those on which slips of a unit count."""
    started = day_of(unit.get("started_on") or unit["installed_on"])
    last = min(as_of, day_of(unit.get("out_of_service_on") or EPOCH_END))
    days = []
    for column, blank in (("failures_recorded_from", kept), ("slips_recorded_from", False)):
        recorded = unit.get(column)
        entry = max(started, day_of(recorded)) if recorded else started
        days.append(set(days_after(entry, last)) if recorded or blank else set())
    return days[0], days[1]


class Part:
    """A seal that is sound or leaks, or a joint that holds or has slipped."""

    def __init__(self) -> None:
        self.since: date | None = None
        self.failed: set[date] = set()
        self.standing: set[date] = set()

    def fails(self, day: date) -> None:
        """Begin to leak, or slip, unless that stands already."""
        if self.since is None:
            self.since = day
            self.failed.add(day)

    def is_renewed(self, day: date) -> None:
        """End what stands; it stood on every day after its first, this one too."""
        if self.since is not None:
            self.standing.update(days_after(self.since, day))
        self.since = None


def seal_story(book: Book, unit: Row, as_of: date) -> Part:
    """Go through the records of one unit, in order, and tell when its seal leaked."""
    seal = Part()
    records = records_in_order(book, unit["unit_id"], as_of)
    events = [row for table, row in records if table == "events"]
    reported = {day_of(e["occurred_on"]) for e in events if e["mode"] == "seal_leak"}
    for table, row in records:
        if table == "walkdowns":
            day = day_of(row["inspected_on"])
            if row.get("seal_weep") == "dripping" and day not in reported:
                seal.fails(day)
        elif table == "events" and row["mode"] in ("seal_leak", "low_speed_bearing"):
            if row["mode"] == "seal_leak":
                seal.fails(day_of(row["occurred_on"]))
            seal.is_renewed(day_of(row["occurred_on"]))
        elif table == "rework" and {"renew_seal", "renew_bearing"} & {*row["actions"].split(";")}:
            seal.is_renewed(day_of(row["done_on"]))
    if seal.since is not None:
        seal.standing.update(days_after(seal.since, as_of))
    return seal


def joint_story(book: Book, unit: Row, as_of: date) -> Part:
    """Go through the records of one unit, in order, and tell when its joint had slipped."""
    joint = Part()
    records = records_in_order(book, unit["unit_id"], as_of)
    events = [row for table, row in records if table == "events"]
    reported = {day_of(e["occurred_on"]) for e in events if e["mode"] == "joint_slip"}
    for table, row in records:
        if table == "walkdowns":
            day = day_of(row["inspected_on"])
            if row.get("shaft_seat"):
                joint.is_renewed(day)
            if row.get("witness_mark") == "moved" and day not in reported:
                joint.fails(day)
        elif table == "events" and row["mode"] == "joint_slip":
            joint.fails(day_of(row["occurred_on"]))
            joint.is_renewed(day_of(row["occurred_on"]))
        elif table == "rework" and {"renew_shaft"} & {*row["actions"].split(";")}:
            joint.is_renewed(day_of(row["done_on"]))
    if joint.since is not None:
        joint.standing.update(days_after(joint.since, as_of))
    return joint


def days_after(start: date, stop: date) -> list[date]:
    """Return the days after one day, up to and with another."""
    return [start + timedelta(days=n) for n in range(1, (stop - start).days + 1)]


def life_of(book: Book, unit: Row, as_of: date, kept_by: date | None = None) -> dict[date, Day]:
    """Tell every day of a unit at risk, from the records written down by the end of a day.

    Whether failures are kept at all is judged by a later day, if one is given.
    """
    kept = failures_are_kept(book, kept_by or as_of)
    bearing = {
        day_of(row["occurred_on"])
        for row in book.events
        if row["unit_id"] == unit["unit_id"]
        and row["mode"] == "low_speed_bearing"
        and recorded_by(row, "occurred_on", as_of)
    }
    seal, joint = seal_story(book, unit, as_of), joint_story(book, unit, as_of)
    failures, slips = observed(unit, as_of, kept=kept)
    life = {}
    for day in sorted(failures | slips):
        tight = day in failures and day not in seal.standing
        holds = day in slips and day not in joint.standing
        life[day] = Day(
            day in failures,
            day in failures and day in bearing,
            tight,
            tight and day in seal.failed,
            holds,
            holds and day in joint.failed,
        )
    return life
