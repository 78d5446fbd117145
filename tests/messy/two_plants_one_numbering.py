"""Two plants that both number from PU-01: one keeps text files, one a workbook in inches and hp."""

from pathlib import Path

import pandas as pd
from kept_records import FIRST, SECOND, as_of_first, in_unit, kept_records, numbered, with_work_of
from messy_fleet import Answer, MessyFleet, Month, Source, Tables
from own_files import Sheet, write_text, write_workbook
from own_writing import Own, day, headings, number, word, words, written

ACTIONS = {
    "renew_seal": "renew seal",
    "back_off_isolators": "back off isolators",
    "realign_arm": "realign arm",
    "open_breather": "open breather",
    "fit_guard": "fit guard",
}
OF_UNITS = (
    Own("unit_id", "Unit"),
    Own("site", "Site"),
    Own("line", "Line"),
    Own("installed_on", "Installed"),
    Own(
        "mounting",
        "Mounting",
        word(
            keyed_bore="keyed bore",
            tapered_bushing="tapered bushing",
            shrink_disc="shrink disc",
            shrink_disc_support_bushings="shrink disc with support bushings",
        ),
    ),
    Own("shaft_diameter_mm", "Shaft diameter mm", number),
    Own("output_speed_rpm", "Output speed rpm", number),
    Own("motor_power_kw", "Motor power kW", number),
)
OF_WALKDOWNS = (
    Own("walkdown_id", "Walkdown"),
    Own("unit_id", "Unit"),
    Own("inspected_on", "Inspected"),
    Own(
        "kind",
        "Kind",
        word(
            post_install="post install",
            after_start="after start",
            periodic="periodic",
            after_rework="after rework",
        ),
    ),
    Own("seated", "Seated"),
    Own("shaft_runout_mm", "Run-out mm", number),
    Own("isolators_free", "Isolators free", number),
    Own("metal_contact", "Metal contact"),
    Own("arm_misset_mm", "Arm mis-set mm", number),
    Own("breather", "Breather"),
    Own("oil_level", "Oil level"),
    Own("guard", "Guard"),
    Own("seal_weep", "Seal weep"),
)
OF_EVENTS = (
    Own("event_id", "Failure no."),
    Own("unit_id", "Unit"),
    Own("occurred_on", "Failed on"),
    Own(
        "mode",
        "Mode",
        word(
            low_speed_bearing="low-speed bearing",
            seal_leak="seal leak",
            joint_slip="joint slip",
            other="other",
        ),
    ),
)
OF_REWORK = (
    Own("rework_id", "Job"),
    Own("unit_id", "Unit"),
    Own("done_on", "Done on"),
    Own("actions", "Actions", words(ACTIONS, "; ")),
)
COLUMNS = {"units": OF_UNITS, "walkdowns": OF_WALKDOWNS, "events": OF_EVENTS, "rework": OF_REWORK}
KEYS = {"walkdowns": "walkdown_id", "events": "event_id", "rework": "rework_id"}
NAMES = {"units": "Units", "walkdowns": "Walkdowns", "events": "Failures", "rework": "Jobs"}
NORTH, SOUTH = "Aldermoor", "Brackwater"
IN_INCHES = {
    "shaft_diameter_mm": Own("shaft_diameter_in", "Shaft diameter (in)", number),
    "motor_power_kw": Own("motor_power_hp", "Motor power (hp)", number),
    "shaft_runout_mm": Own("shaft_runout_in", "Run-out (in)", number),
    "arm_misset_mm": Own("arm_misset_in", "Arm mis-set (in)", number),
}


def of_south(column: Own) -> Own:
    """Keep days as a spreadsheet does, lengths in inches and power in hp."""
    if column.column.endswith("_on"):
        return Own(column.column, column.heading, day)
    return IN_INCHES.get(column.column, column)


OF_SOUTH = {name: [of_south(one) for one in columns] for name, columns in COLUMNS.items()}
ANSWERS = (
    Answer("table", "", "Failures", "events", "failures are our events"),
    Answer("table", "", "Jobs", "rework", "jobs are our re-work"),
)


def make(folder: Path) -> MessyFleet:
    plants = {
        NORTH: drawn("small_quarry", "Stone shed", 30, NORTH),
        SOUTH: drawn("grain_port", "Rail shed", 35, SOUTH),
    }
    months = []
    for as_of in (FIRST, SECOND):
        now = {
            name: as_of_first(tables) if as_of == FIRST else tables
            for name, tables in plants.items()
        }
        sources = (
            *write_north(folder / as_of / NORTH, now[NORTH]),
            *write_south(folder / as_of / SOUTH, now[SOUTH]),
        )
        months.append(Month(as_of, sources, both(now)))
    return MessyFleet(months[0], months[1], ANSWERS, id_as_written=r"PU-\d\d")


def drawn(plant: str, site: str, count: int, called: str) -> Tables:
    tables = kept_records(
        plant,
        site,
        count,
        named="PU-{:02d}".format,
        sites=(f"{called} works",),
        of_units=[one.column for one in OF_UNITS[2:]],
        of_walkdowns=[one.column for one in OF_WALKDOWNS[2:]],
    )
    tables = with_work_of(tables, list(ACTIONS))
    kept = COLUMNS
    if called == SOUTH:
        kept = OF_SOUTH
        in_unit(tables["units"], "shaft_diameter_mm", "in", 1 / 25.4, 4)
        in_unit(tables["units"], "motor_power_kw", "hp", 1.34102, 1)
        in_unit(tables["walkdowns"], "shaft_runout_mm", "in", 1 / 25.4, 4)
        in_unit(tables["walkdowns"], "arm_misset_mm", "in", 1 / 25.4, 3)
    return {name: tables[name][[one.column for one in columns]] for name, columns in kept.items()}


def both(plants: dict[str, Tables]) -> Tables:
    """Put both plants into one fleet, each id with its plant before it."""
    found = {}
    for name in COLUMNS:
        parts = [
            tables[name].assign(unit_id=f"{plant}/" + tables[name]["unit_id"])
            for plant, tables in plants.items()
        ]
        rows = pd.concat(parts, ignore_index=True).fillna("")
        found[name] = numbered(rows, KEYS[name]) if name in KEYS else rows
    return found


def write_north(folder: Path, tables: Tables) -> tuple[Source, ...]:
    for name, file in NAMES.items():
        rows = [headings(COLUMNS[name]), *written(tables[name], COLUMNS[name])]
        write_text(folder / f"{file}.csv", rows)
    return tuple(Source(folder / f"{file}.csv", plant=NORTH) for file in NAMES.values())


def write_south(folder: Path, tables: Tables) -> tuple[Source, ...]:
    path = folder / "Reducers.xlsx"
    sheets = {
        file: Sheet([headings(OF_SOUTH[name]), *written(tables[name], OF_SOUTH[name])])
        for name, file in NAMES.items()
    }
    write_workbook(path, sheets)
    return (Source(path, plant=SOUTH),)
