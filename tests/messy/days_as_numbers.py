"""Days as numbers without a date format, TRUE and FALSE of LibreOffice, a column for each job."""

from pathlib import Path

import pandas as pd
from kept_records import kept_records, with_work_of
from messy_fleet import Answer, MessyFleet, Source, Tables
from own_files import Sheet, write_workbook
from own_writing import Cell, Own, day_number, headings, number, word, written
from two_months import two_months

AS_LIBREOFFICE = '"TRUE";"TRUE";"FALSE"'
"""Number format by which LibreOffice says in a workbook that 1 is yes and 0 is no; from memory."""

ACTIONS = {
    "renew_seal": "Seal renewed",
    "back_off_isolators": "Isolators backed off",
    "replace_isolators": "Isolators replaced",
    "restore_clearance": "Clearance restored",
    "correct_oil_level": "Oil level corrected",
    "fit_guard": "Guard fitted",
    "open_breather": "Breather opened",
}
OF_UNITS = (
    Own("unit_id", "No"),
    Own("site", "Site"),
    Own("line", "Conveyor line"),
    Own("installer", "Fitted by"),
    Own("installed_on", "Fitted on", day_number),
    Own("started_on", "Started on", day_number),
    Own(
        "mounting",
        "Shaft mounting",
        word(
            keyed_bore="keyed",
            tapered_bushing="tapered bushing",
            shrink_disc="shrink disc",
            shrink_disc_support_bushings="shrink disc and support bushings",
        ),
    ),
    Own("shaft_diameter_mm", "Shaft diameter in mm", number),
    Own("joint_rated_torque_nm", "Rated torque of joint in Nm", number),
    Own("output_torque_nm", "Running torque in Nm", number),
    Own("duty_h_per_day", "Hours per day", number),
)
OF_WALKDOWNS = (
    Own("walkdown_id", "Walk"),
    Own("unit_id", "No"),
    Own("inspected_on", "Walked on", day_number),
    Own(
        "kind",
        "Kind of walk",
        word(
            post_install="after installation",
            after_start="after first start",
            periodic="periodic",
            after_rework="after rework",
        ),
    ),
    Own("seated", "Fully home", lambda text: int(text == "home")),
    Own("isolators_free", "Free isolators", number),
    Own("metal_contact", "Metal contact", lambda text: text == "yes"),
    Own("smallest_clearance_mm", "Clearance in mm", number),
    Own("breather", "Breather open", lambda text: int(text == "open")),
    Own("oil_level", "Oil", word(right="right", high="high", low="low")),
    Own("guard", "Guard fitted", lambda text: text == "fitted"),
    Own("seal_weep", "Seal", word(dry="dry", damp="damp", dripping="dripping")),
)
OF_EVENTS = (
    Own("event_id", "Failure no"),
    Own("unit_id", "No"),
    Own("occurred_on", "Failed on", day_number),
    Own(
        "mode",
        "Failed part",
        word(
            low_speed_bearing="bearing",
            seal_leak="seal",
            joint_slip="shaft joint",
            other="other",
        ),
    ),
)
OF_REWORK = (
    Own("rework_id", "Job no"),
    Own("unit_id", "No"),
    Own("done_on", "Mended on", day_number),
)
COLUMNS = {
    "units": OF_UNITS,
    "walkdowns": OF_WALKDOWNS,
    "events": OF_EVENTS,
    "rework": (*OF_REWORK, Own("actions", "")),
}
SHEETS = {"units": "Register", "walkdowns": "Walks", "events": "Failures", "rework": "Mended"}
SHOWN_AS_YES = {"Walks": ("E", "I")}
ANSWERS = (
    Answer("word", "Failures", "bearing", "low_speed_bearing", "the low-speed bearing failed"),
    Answer("word", "Failures", "seal", "seal_leak", "the output seal leaked"),
    Answer("column", "Walks", "Seal", "seal_weep", "whether the output seal weeps"),
    Answer("column", "Walks", "Oil", "oil_level", "where the oil stands"),
    Answer("column", "Register", "No", "unit_id", "the number of a unit"),
    Answer("yes", "Walks", "Fully home", "seated=home", "TRUE: fully on the shaft"),
    Answer("yes", "Walks", "Breather open", "breather=open", "TRUE: it is open"),
    Answer("yes", "Walks", "Guard fitted", "guard=fitted", "TRUE: it is there"),
    Answer("table", "Mended", "Mended", "rework", "what was mended is our re-work"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "small_quarry",
        "Stone shed",
        56,
        named="Q{:03d}".format,
        sites=("Quarry",),
        of_units=[one.column for one in OF_UNITS[2:]],
        of_walkdowns=[one.column for one in OF_WALKDOWNS[2:]],
    )
    return two_months(folder, with_work_of(tables, list(ACTIONS)), COLUMNS, write, ANSWERS)


def write(folder: Path, tables: Tables) -> tuple[Source, ...]:
    path = folder / "register.xlsx"
    sheets = {}
    for name, sheet in SHEETS.items():
        rows = mended(tables[name]) if name == "rework" else plain(name, tables[name])
        shown = dict.fromkeys(SHOWN_AS_YES.get(sheet, ()), AS_LIBREOFFICE)
        sheets[sheet] = Sheet(rows, shown_as=shown)
    write_workbook(path, sheets)
    return (Source(path),)


def plain(name: str, rows: pd.DataFrame) -> list[list[Cell]]:
    return [headings(COLUMNS[name]), *written(rows, COLUMNS[name])]


def mended(rows: pd.DataFrame) -> list[list[Cell]]:
    """Write a column for each job: yes where it was done, nothing where not."""
    done = [
        ["yes" if one in text.split(";") else None for one in ACTIONS] for text in rows["actions"]
    ]
    begun = written(rows, OF_REWORK)
    body = [[*left, *right] for left, right in zip(begun, done, strict=True)]
    return [[*headings(OF_REWORK), *ACTIONS.values()], *body]
