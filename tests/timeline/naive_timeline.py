"""What was known of one unit, told record by record: plain loops, slow, easy to read through."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from fleets import Book, Row

HANGING = (
    "bore_condition",
    "clamp_seat_condition",
    "shaft_diameter_measured_mm",
    "shaft_seat",
    "key_condition",
    "torque_passes",
    "tightening_order",
    "collar_gap_mm",
)
BEARING_SYMPTOMS = ("running_temperature_c", "vibration_mm_s")
SYMPTOMS = (*BEARING_SYMPTOMS, "seal_weep")

_HOME = ("seated", "engagement_mm", "shaft_end", "support_bushings")
_SCREWS = (
    "torque_passes",
    "tightening_order",
    "final_torque_nm",
    "screws_low",
    "screws_missing",
    "screws_rechecked",
)
CURES: dict[str, tuple[str, ...]] = {
    "back_off_isolators": ("isolators_free", "isolator_squeeze_mm"),
    "replace_isolators": ("isolators_free", "isolator_squeeze_mm", "isolator_stack"),
    "restore_isolation": ("metal_contact", "isolator_stack"),
    "restore_clearance": ("metal_contact", "smallest_clearance_mm"),
    "realign_arm": ("arm_misset_mm", "arm_angle_deg"),
    "tighten_arm_bolts": ("arm_bolts",),
    "reseat_on_shaft": _HOME,
    "renew_support_bushings": _HOME,
    "exchange_unit": ("engagement_mm", "shaft_end"),
    "clean_and_refit": ("bore_condition", "clamp_seat_condition", *_SCREWS),
    "retorque_in_passes": _SCREWS,
    "reset_collar_gap": ("collar_gap_mm", *_SCREWS),
    "recentre_disc": ("disc_offset_mm", *_SCREWS),
    "true_shaft": ("shaft_runout_mm",),
    "renew_shaft": (
        "shaft_runout_mm",
        "engagement_mm",
        "shaft_end",
        "shaft_diameter_measured_mm",
        "shaft_seat",
        "witness_mark",
    ),
    "renew_key": ("key_condition",),
    "tighten_retention": ("retention",),
    "open_breather": ("breather",),
    "correct_oil_level": ("oil_level",),
    "change_oil": ("oil_condition", "oil_level"),
    "move_plugs": ("mounting_position",),
    "turn_backstop": ("backstop_direction",),
    "fit_guard": ("guard",),
    "renew_seal": ("seal_weep", "seal_lip"),
    "renew_outboard_seal": ("seal_weep", "seal_lip"),
    "renew_bearing": ("seal_weep", "seal_lip", "oil_condition"),
}
OFF_SHAFT = (
    "reseat_on_shaft",
    "clean_and_refit",
    "renew_key",
    "renew_shaft",
    "renew_support_bushings",
    "renew_bearing",
    "renew_seal",
    "true_shaft",
    "exchange_unit",
)
MADE_ANEW = (
    "seated",
    "torque_passes",
    "tightening_order",
    "final_torque_nm",
    "screws_low",
    "screws_missing",
    "screws_rechecked",
    "collar_gap_mm",
    "disc_offset_mm",
)
GOOD_IS_LOST = (
    "bore_condition",
    "clamp_seat_condition",
    "support_bushings",
    "engagement_mm",
    "shaft_end",
    "witness_mark",
    "key_condition",
    "retention",
    "arm_bolts",
    "isolator_stack",
    "isolators_free",
    "isolator_squeeze_mm",
    "metal_contact",
    "smallest_clearance_mm",
    "arm_misset_mm",
    "arm_angle_deg",
    "oil_level",
    "guard",
)
THE_SHAFTS_AT_HOME = ("engagement_mm", "shaft_end")
_NEEDS_A_PART = {
    "shaft_seat": "worn",
    "witness_mark": "moved",
    "oil_condition": "metal",
    "support_bushings": "missing",
}
_BRINGS_IT = {
    "shaft_seat": ("renew_shaft",),
    "witness_mark": ("renew_shaft",),
    "engagement_mm": ("renew_shaft", "exchange_unit"),
    "shaft_end": ("renew_shaft", "exchange_unit"),
    "oil_condition": ("renew_bearing",),
    "support_bushings": ("renew_support_bushings",),
}
_REPAIR = {"low_speed_bearing": "renew_bearing", "seal_leak": "renew_outboard_seal"}
_DAY = {"events": "occurred_on", "walkdowns": "inspected_on", "rework": "done_on"}
_KEY = {"events": "event_id", "walkdowns": "walkdown_id", "rework": "rework_id"}

Exceedance = dict[tuple[str, str], float]


def day_of(text: str) -> date:
    return date.fromisoformat(text[:10])


@dataclass
class Look:
    value: str
    exceedance: float
    day: date
    hanging: int


@dataclass
class NaiveUnit:
    """What was known of one unit."""

    crew: str
    hung_on: date
    looks: dict[str, Look] = field(default_factory=dict)
    hanging: int = 0
    home_on: dict[int, bool] = field(default_factory=dict)
    cured_on: dict[str, date] = field(default_factory=dict)
    ignored: list[tuple[str, str, str]] = field(default_factory=list)
    bearing_renewed_on: date | None = None
    seal_renewed_on: date | None = None
    leak_since: date | None = None
    mended_leaks: list[date] = field(default_factory=list)

    def forget(self, check: str) -> None:
        self.looks.pop(check, None)
        self.cured_on.pop(check, None)
        self.ignored = [row for row in self.ignored if row[1] != check]

    def at_home(self, check: str) -> bool:
        """Tell whether the unit was seen home on the hanging on which a check was seen."""
        look = self.looks.get(check)
        return (
            check in THE_SHAFTS_AT_HOME
            and look is not None
            and self.home_on.get(look.hanging, False)
        )

    def visit(self, row: Row, exceedance: Exceedance, leaked: set[date]) -> None:
        """Look at every check that a walkdown saw; a leak told by an event counts once."""
        walkdown_id, day = row["walkdown_id"], day_of(row["inspected_on"])
        if row.get("shaft_seat"):
            self.forget("witness_mark")
        for check, value in row.items():
            if value and (walkdown_id, check) in exceedance:
                dripping = value == "dripping"
                if dripping and day in leaked:
                    continue
                bad = exceedance[walkdown_id, check]
                self.see(walkdown_id, check, Look(value, bad, day, self.hanging))
                if dripping and self.leak_since is None:
                    self.leak_since = day

    def see(self, walkdown_id: str, check: str, look: Look) -> None:
        stands = self.looks.get(check)
        if stands is not None and check in HANGING and stands.hanging < look.hanging:
            self.forget(check)
            stands = None
        lasting = check in HANGING or (stands is not None and stands.value in ("dripping", "moved"))
        if stands is not None and lasting and look.exceedance < stands.exceedance:
            self.ignored.append((walkdown_id, check, look.value))
            return
        self.looks[check] = look
        self.cured_on.pop(check, None)
        if check == "seated":
            self.home_on[look.hanging] = look.value == "home"

    def slip(self, event_id: str, crew: str, day: date) -> None:
        self.see(event_id, "shaft_seat", Look("worn", 2.0, day, self.hanging))
        self.hang_anew(crew, day)

    def hang_anew(self, crew: str, day: date) -> None:
        """Forget what hanging makes anew, and good looks at what it may have undone."""
        self.crew, self.hung_on = crew, day
        self.hanging += 1
        for check in (*self.looks, *self.cured_on):
            look = self.looks.get(check)
            bad = look is not None and look.exceedance > 0
            lost = check in GOOD_IS_LOST and not bad and not self.at_home(check)
            if check in MADE_ANEW or lost:
                self.forget(check)

    def stays(self, check: str, actions: list[str]) -> bool:
        """Tell whether what was found stays, as it needs a part that nobody has brought."""
        look = self.looks.get(check)
        damaged = look is not None and look.value == _NEEDS_A_PART.get(check)
        if not damaged and not self.at_home(check):
            return False
        return not {*actions} & {*_BRINGS_IT[check]}

    def change(self, actions: list[str], crew: str, day: date, *, is_leak: bool = False) -> None:
        cured = {check for action in actions for check in CURES[action]}
        cured = {check for check in cured if not self.stays(check, actions)}
        if any(action in OFF_SHAFT for action in actions):
            self.hang_anew(crew, day)
        for check in cured:
            self.forget(check)
            self.cured_on[check] = day
        if "renew_bearing" in actions:
            self.bearing_renewed_on = day
            for check in BEARING_SYMPTOMS:
                self.forget(check)
        if {"renew_bearing", "renew_seal", "renew_outboard_seal"} & set(actions):
            self.seal_renewed_on = day
            if self.leak_since is not None and not is_leak:
                self.mended_leaks.append(self.leak_since)
            self.leak_since = None


def actions_in(table: str, row: Row) -> list[str]:
    """Return what a failure or a row of re-work did, a seal renewed outboard by its own name."""
    if table == "events":
        return [_REPAIR[row["mode"]]] if row["mode"] in _REPAIR else []
    actions = row["actions"].split(";")
    if row.get("seal_side", "") == "outboard":
        actions = ["renew_outboard_seal" if one == "renew_seal" else one for one in actions]
    return actions


def told_record_by_record(
    book: Book, unit: Row, as_of: date, exceedance: Exceedance
) -> Iterator[tuple[NaiveUnit, str, Row]]:
    """Yield each record of a unit known by the end of a day, and what was known before it."""
    naive = NaiveUnit(unit.get("installer", ""), day_of(unit["installed_on"]))
    records = _in_order(book, unit["unit_id"], as_of)
    events = {row["event_id"]: row for table, row in records if table == "events"}
    leaked = {day_of(e["occurred_on"]) for e in events.values() if e["mode"] == "seal_leak"}
    for table, row in records:
        yield naive, table, row
        day, crew = day_of(row[_DAY[table]]), row.get("crew", "")
        if table == "walkdowns":
            naive.visit(row, exceedance, leaked)
        elif row.get("mode") == "joint_slip":
            naive.slip(row["event_id"], crew, day)
        else:
            repaired = events.get(row.get("event_id", ""), {}) if table == "rework" else {}
            is_leak = row.get("mode") == "seal_leak"
            crew = crew or repaired.get("crew", "")
            naive.change(actions_in(table, row), crew, day, is_leak=is_leak)
    yield naive, "", {}


def known_of(book: Book, unit: Row, as_of: date, exceedance: Exceedance) -> NaiveUnit:
    """Go through the records of one unit, in order, that were known by the end of a day."""
    *_, (naive, _, _) = told_record_by_record(book, unit, as_of, exceedance)
    for check in SYMPTOMS:
        if check in naive.looks and _forgotten(naive.looks[check], as_of):
            naive.forget(check)
    return naive


def _forgotten(look: Look, as_of: date) -> bool:
    leap = (as_of.month, as_of.day) == (2, 29)
    year_ago = as_of.replace(year=as_of.year - 1, day=28 if leap else as_of.day)
    return look.value != "dripping" and look.day < year_ago


def _in_order(book: Book, unit_id: str, as_of: date) -> list[tuple[str, Row]]:
    days: dict[date, list[tuple[str, Row]]] = {}
    for table in _DAY:
        for row in getattr(book, table):
            day, written = row[_DAY[table]], row.get("recorded_at", "")
            hidden = day_of(day) > as_of or (written != "" and day_of(written) > as_of)
            if row["unit_id"] == unit_id and not hidden:
                days.setdefault(day_of(day), []).append((table, row))
    ordered = []
    for day in sorted(days):
        all_timed = all(len(row[_DAY[table]]) > 10 for table, row in days[day])
        ordered += sorted(days[day], key=lambda record: _sort_key(*record, timed=all_timed))
    return ordered


def _sort_key(table: str, row: Row, *, timed: bool) -> tuple[object, ...]:
    again = table == "walkdowns" and row["kind"] == "after_rework"
    turn = 3 if again else ["events", "walkdowns", "rework"].index(table)
    parts = re.findall(r"[0-9]+|[^0-9]+", row[_KEY[table]])
    natural = [(1, int(p), "") if p.isdigit() else (0, 0, p) for p in parts]
    return (row[_DAY[table]][11:] if timed else "", turn, natural, row[_KEY[table]])


def days_in_service(book: Book, unit: Row, as_of: date, exceedance: Exceedance, part: str) -> int:
    """Return the age of a bearing or seal, over every shaft its reducer was on."""
    asset = unit.get("asset_id", "")
    shafts = [u for u in book.units if asset and u.get("asset_id", "") == asset] or [unit]
    shafts.sort(key=lambda u: (u["installed_on"], u.get("out_of_service_on") or "9999"))
    age = 0
    for shaft in shafts:
        since = day_of(shaft.get("started_on") or shaft["installed_on"])
        until = min(as_of, day_of(shaft.get("out_of_service_on") or "9999-12-31"))
        naive = known_of(book, shaft, as_of, exceedance)
        renewed = naive.bearing_renewed_on if part == "bearing" else naive.seal_renewed_on
        if renewed is not None:
            age, since = 0, max(since, renewed)
        age += max(0, (until - since).days)
        if shaft is unit:
            break
    return age


def in_service(unit: Row, as_of: date) -> bool:
    """Tell whether a unit is in service at the end of a day."""
    ended = unit.get("out_of_service_on", "")
    return day_of(unit["installed_on"]) <= as_of and not (ended and day_of(ended) <= as_of)
