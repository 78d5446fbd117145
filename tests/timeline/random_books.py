"""Random small fleets: tens of records crowded on few days, with every oddity that is allowed."""

from datetime import date, timedelta

from fleets import Book, Row
from hypothesis import strategies as st

from scoring.contract import CHECK_BY_NAME, CHECKS, Kind
from scoring.contract.events import FAILURE_MODES
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.rework import ACTIONS

BASE = date(2024, 1, 1)
STEPS = (0, 1, 2, 30, 365, 366, 400)
TIMES = ("T07:00", "T09:30", "T14:00", "T14:00:20")
LATE = (None, None, 0, 1, 3, 40, 400)

NUMBERS = {
    "isolators_free": ("0", "1", "2"),
    "torque_passes": ("1", "2", "3", "4"),
    "screws_low": ("0", "1", "5"),
    "screws_missing": ("0", "1", "4"),
    "shaft_diameter_measured_mm": ("79", "79.9", "80", "82"),
    "collar_gap_mm": ("0.5", "1.5", "2.5"),
    "arm_angle_deg": ("60", "70", "89"),
    "running_temperature_c": ("60", "95", "101"),
}
HANGING = tuple(check.name for check in CHECKS if check.seen.value == "H")
SEEN_TOGETHER = ((), ("seated", "engagement_mm", "shaft_end"), ("witness_mark", "shaft_seat"))
OFTEN = tuple(
    action.name
    for action in ACTIONS
    if action.off_shaft or action.renews or {*HANGING} & {*action.cures} or action.brings
)

maybe = st.booleans()


def on(offset: int) -> str:
    """Return a day as text."""
    return (BASE + timedelta(days=offset)).isoformat()


def _values(check: str) -> tuple[str, ...]:
    declared = CHECK_BY_NAME[check]
    if declared.kind is Kind.CHOICE:
        return declared.allowed
    return NUMBERS.get(check, ("0", "0.1", "2", "5"))


@st.composite
def books(draw: st.DrawFn) -> tuple[Book, date]:
    """Draw the records of a fleet and a day as of which it is asked about."""
    book = Book()
    steps = draw(st.lists(st.sampled_from(STEPS), min_size=2, max_size=4, unique=True))
    start = draw(st.integers(0, 60))
    pool = sorted(start + step for step in steps)
    asset_free_from = 0
    for number in range(draw(st.sampled_from((5, 4, 3, 1)))):
        cells, first, last = draw(_unit(asset_free_from))
        if "asset_id" in cells:
            asset_free_from = last
        book.unit(f"U{number}", **cells)
        days = [day for day in pool if first <= day <= last] or [first]
        draw(_records(book, book.units[-1], days))
    as_of = draw(st.sampled_from(pool)) + draw(st.sampled_from((0, 0, 1, 3, 40, 365, 366)))
    return book, BASE + timedelta(days=as_of)


@st.composite
def _unit(draw: st.DrawFn, asset_free_from: int) -> tuple[Row, int, int]:
    cells = {
        "mounting": draw(st.sampled_from(EVERY_MOUNTING)),
        "installer": draw(st.sampled_from(("", "crew A"))),
        "backstop": "yes",
        "required_engagement_mm": "1",
    }
    shared = draw(st.sampled_from((False, False, True)))
    first = draw(st.sampled_from((0, 0, 1, 40))) + (asset_free_from if shared else 0)
    length = draw(st.sampled_from((800, 1500, 400, 40, 3, 0)))
    wait = min(draw(st.sampled_from((0, 2, 20))), length)
    ends = shared or draw(st.sampled_from((False, False, True)))
    cells["installed_on"] = on(first)
    cells["started_on"] = draw(st.sampled_from(("", on(first + wait))))
    cells["out_of_service_on"] = on(first + length) if ends else ""
    cells["failures_recorded_from"] = draw(st.sampled_from(("", "", on(first + 3))))
    cells["slips_recorded_from"] = draw(st.sampled_from(("", on(first), on(first + 7))))
    if shared:
        cells["asset_id"] = "reducer 1"
    return cells, first, first + length if ends else 2000


@st.composite
def _records(draw: st.DrawFn, book: Book, unit: Row, days: list[int]) -> None:
    """Write down what happened at one unit; a few checks are seen again and again."""
    on_it = [check.name for check in CHECKS if unit["mounting"] in check.mountings]
    hanging = [name for name in on_it if name in HANGING]
    some = st.lists(st.sampled_from(on_it), min_size=1, max_size=3, unique=True)
    together = draw(st.sampled_from(SEEN_TOGETHER))
    checks = {"seal_weep", draw(st.sampled_from(hanging)), *draw(some), *together}
    timed_days = {day: draw(maybe) for day in days}
    for _ in range(draw(st.sampled_from((14, 10, 6, 3, 0)))):
        day = draw(st.sampled_from(days))
        time = draw(st.sampled_from((*TIMES, ""))) if timed_days[day] else ""
        late = draw(st.sampled_from(LATE))
        written = {} if late is None else {"recorded_at": on(day + late)}
        moment = on(day) + time
        what = draw(st.sampled_from(("look", "look", "look", "failure", "rework")))
        if what == "look":
            draw(_look(book, unit, moment, sorted(checks), written))
        else:
            draw(_failure_or_rework(book, unit, moment, what, written))


def _key(letter: str, rows: list[Row], prefix: str) -> str:
    return f"{letter}{prefix}{len(rows) * 7 % 101}"


@st.composite
def _look(  # noqa: PLR0913, PLR0917 - what a row is made of
    draw: st.DrawFn, book: Book, unit: Row, moment: str, checks: list[str], written: Row
) -> None:
    running = moment[:10] >= (unit["started_on"] or unit["installed_on"])
    kinds = ("post_install", "after_rework", *(("periodic", "after_start") if running else ()))
    seen = {check: draw(st.sampled_from(("", *_values(check)))) for check in checks}
    key = _key("W", book.walkdowns, draw(st.sampled_from(("", "0", "-"))))
    kind = draw(st.sampled_from(kinds))
    for check in seen:
        if CHECK_BY_NAME[check].asked_on and kind not in CHECK_BY_NAME[check].asked_on:
            seen[check] = ""
    if seen.get("screws_low") and seen.get("screws_missing"):
        seen["screws_low"] = "5"  # the missing ones are counted among them
    book.look(moment, unit["unit_id"], walkdown_id=key, kind=kind, **seen, **written)


@st.composite
def _failure_or_rework(  # noqa: PLR0913, PLR0917 - what a row is made of
    draw: st.DrawFn, book: Book, unit: Row, moment: str, what: str, written: Row
) -> None:
    crew = draw(st.sampled_from(("", "", "crew B", "crew C")))
    unit_id = unit["unit_id"]
    if what == "failure":
        mode = draw(st.sampled_from((*FAILURE_MODES, "seal_leak")))
        key = _key("E", book.events, "")
        book.failed(moment, mode, unit_id, event_id=key, crew=crew, **written)
        return
    action = st.one_of(st.sampled_from(OFTEN), st.sampled_from([a.name for a in ACTIONS]))
    actions = ";".join(draw(st.lists(action, min_size=1, max_size=2, unique=True)))
    named = [e["event_id"] for e in book.events if e["unit_id"] == unit_id]
    event = draw(st.sampled_from(("", *named)))
    key = _key("R", book.rework, "")
    if "renew_seal" in actions:
        written = {**written, "seal_side": draw(st.sampled_from(("", "outboard", "both")))}
    book.reworked(moment, actions, unit_id, rework_id=key, event_id=event, crew=crew, **written)
