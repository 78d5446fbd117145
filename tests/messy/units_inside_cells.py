"""Typed by many hands: units inside the cells, stray spaces, mixed case, y and YES and Yes."""

import zlib
from collections.abc import Callable, Sequence
from pathlib import Path

from kept_records import kept_records, with_work_of
from messy_fleet import Answer, MessyFleet, Source, Tables
from own_files import Sheet, write_workbook
from own_writing import Cell, Own, headings, month_by_name, word, words, written
from two_months import two_months

NO_BREAK = "\N{NO-BREAK SPACE}"


def choice(of: str, ways: Sequence[str]) -> str:
    """Choose one way, always the same for the same text."""
    return ways[zlib.crc32(of.encode()) % len(ways)]


def with_unit(unit: str) -> Callable[[str], Cell]:
    """Write 198 mm, 198mm, or with a space that does not break."""
    return lambda text: choice(
        text + unit,
        (f"{text} {unit}", f"{text}{unit}", f"{text}{NO_BREAK}{unit}", f" {text} {unit} "),
    )


MM, NM = with_unit("mm"), with_unit("Nm")
ACTIONS = {
    "renew_seal": "Renewed seal",
    "back_off_isolators": "Backed off isolators",
    "realign_arm": "Realigned arm",
    "correct_oil_level": "Corrected oil level",
    "restore_clearance": "Restored clearance",
}
OF_UNITS = (
    Own("unit_id", "Gearbox ID"),
    Own("site", "Location"),
    Own("driven_equipment", "Drives"),
    Own("installed_on", "Installed on", month_by_name),
    Own(
        "mounting",
        "How mounted",
        word(
            keyed_bore="Keyed bore",
            tapered_bushing="Tapered bushing",
            shrink_disc="Shrink disc",
            shrink_disc_support_bushings="Shrink disc with support bushings",
        ),
    ),
    Own("shaft_diameter_mm", "Shaft diameter", MM),
    Own("required_engagement_mm", "Engagement required", MM),
    Own("output_torque_nm", "Torque at output", NM),
    Own("output_speed_rpm", "Speed at output", with_unit("rpm")),
    Own("motor_power_kw", "Motor power", with_unit("kW")),
    Own("unit_mass_kg", "Mass", with_unit("kg")),
)
OF_WALKDOWNS = (
    Own("walkdown_id", "Visit"),
    Own("unit_id", "Gearbox ID"),
    Own("inspected_on", "Visited on", month_by_name),
    Own(
        "kind",
        "Why visited",
        word(
            post_install="Post install",
            after_start="After start",
            periodic="Periodic",
            after_rework="After rework",
        ),
    ),
    Own("inspector", "By"),
    Own("engagement_mm", "Engagement", MM),
    Own("shaft_runout_mm", "Runout", MM),
    Own("isolators_free", "Isolators free", with_unit("pcs")),
    Own("metal_contact", "Metal contact", word(yes="Yes", no="No")),
    Own("smallest_clearance_mm", "Smallest clearance", MM),
    Own("arm_angle_deg", "Arm angle", with_unit("°")),
    Own("breather", "Breather", word(open="Open", plugged="Blocked")),
    Own("oil_level", "Oil level", word(right="Right", high="High", low="Low")),
    Own("guard", "Guard", word(fitted="Yes", missing="No")),
    Own("running_temperature_c", "Temperature", with_unit("°C")),
    Own("vibration_mm_s", "Vibration", with_unit("mm/s")),
    Own("seal_weep", "Seal", word(dry="Dry", damp="Damp", dripping="Dripping")),
)
OF_EVENTS = (
    Own("event_id", "Failure"),
    Own("unit_id", "Gearbox ID"),
    Own("occurred_on", "Failed on", month_by_name),
    Own(
        "mode",
        "What happened",
        word(
            low_speed_bearing="Low speed bearing failed",
            seal_leak="Seal leak",
            joint_slip="Joint slip",
            other="Other",
        ),
    ),
    Own("downtime_h", "Down for", with_unit("h")),
)
OF_REWORK = (
    Own("rework_id", "Job"),
    Own("unit_id", "Gearbox ID"),
    Own("done_on", "Done on", month_by_name),
    Own("actions", "What was done", words(ACTIONS, ", ")),
    Own("hours", "Took", with_unit("h")),
)
SHEETS = {
    "units": ("gearboxes", OF_UNITS),
    "walkdowns": ("visits", OF_WALKDOWNS),
    "events": ("failures", OF_EVENTS),
    "rework": ("jobs", OF_REWORK),
}
BY_HAND = {
    "mounting",
    "kind",
    "metal_contact",
    "breather",
    "oil_level",
    "guard",
    "seal_weep",
    "mode",
}
ANSWERS = (
    Answer("yes", "visits", "Guard", "guard=fitted", "yes: the guard is there"),
    Answer("word", "visits", "Blocked", "plugged", "blocked: the breather is plugged"),
    Answer("column", "visits", "Seal", "seal_weep", "whether the output seal weeps"),
    Answer("column", "visits", "By", "inspector", "who looked"),
    Answer("column", "gearboxes", "Location", "site", "a location is our site"),
    Answer("column", "gearboxes", "Drives", "driven_equipment", "what it drives"),
    Answer("word", "failures", "Low speed bearing failed", "low_speed_bearing", "the bearing"),
    Answer("column", "jobs", "Took", "hours", "how many hours the work took"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "grain_port",
        "Rail shed",
        40,
        start=40,
        named="gbx-{:03d}".format,
        sites=("Tower", "Tunnel"),
        of_units=[one.column for one in OF_UNITS[2:]],
        of_walkdowns=[one.column for one in OF_WALKDOWNS[2:]],
    )
    tables = with_work_of(tables, list(ACTIONS))
    kept = {name: columns for name, (_, columns) in SHEETS.items()}
    return two_months(folder, tables, kept, write, ANSWERS)


def write(folder: Path, tables: Tables) -> tuple[Source, ...]:
    path = folder / "gearboxes.xlsx"
    sheets = {}
    for name, (sheet, columns) in SHEETS.items():
        rows = by_many_hands(written(tables[name], columns), columns)
        sheets[sheet] = Sheet([headings(columns), *rows])
    write_workbook(path, sheets)
    return (Source(path),)


def by_many_hands(rows: list[list[Cell]], columns: Sequence[Own]) -> list[list[Cell]]:
    """Write words in capitals or small, and with a space too many, as several people would."""
    return [
        [
            choice(
                f"{row[0]} {one.heading}",
                (said, said, said.upper(), said.lower(), f" {said}", f"{said} ", said + NO_BREAK),
            )
            if one.column in BY_HAND and isinstance(said, str)
            else said
            for one, said in zip(columns, row, strict=True)
        ]
        for row in rows
    ]
