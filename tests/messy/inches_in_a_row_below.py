"""United States; own sheet names, inches and pounds told in a row below the headings."""

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import pandas as pd
from kept_records import in_unit, kept_records, with_work_of
from messy_fleet import Answer, MessyFleet, Source, Tables
from own_files import Sheet, write_workbook
from own_writing import Own, headings, month_first, number, word, words, written
from two_months import two_months

ACTIONS = {
    "renew_seal": "replaced seal",
    "back_off_isolators": "backed off isolators",
    "replace_isolators": "replaced isolators",
    "realign_arm": "realigned torque arm",
    "correct_oil_level": "corrected oil level",
    "open_breather": "cleared breather",
}
OF_UNITS = (
    Own("unit_id", "Tag No."),
    Own("site", "Area"),
    Own("driven_equipment", "Driven Machine"),
    Own("installed_on", "Install Date", month_first),
    Own(
        "mounting",
        "Mount Style",
        word(
            keyed_bore="Straight bore, keyed",
            tapered_bushing="Taper bushing",
            shrink_disc="Shrink disc",
            shrink_disc_support_bushings="Shrink disc w/ support bushings",
        ),
    ),
    Own("shaft_diameter_in", "Shaft Dia", unit="in"),
    Own("required_engagement_in", "Req'd Engagement", number, unit="in"),
    Own("output_torque_lbft", "Output Torque", number, unit="lb-ft"),
    Own("output_speed_rpm", "Output Speed", number, unit="rpm"),
    Own("motor_power_hp", "Motor", number, unit="HP"),
    Own("unit_mass_lb", "Weight", number, unit="lbs"),
)
OF_WALKDOWNS = (
    Own("walkdown_id", "WD #"),
    Own("unit_id", "Tag No."),
    Own("inspected_on", "Date", month_first),
    Own(
        "kind",
        "Reason",
        word(
            post_install="New install",
            after_start="After start-up",
            periodic="PM round",
            after_rework="After rework",
        ),
    ),
    Own("engagement_in", "Shaft Engagement", number, unit="in"),
    Own("shaft_runout_in", "Runout (TIR)", number, unit="in"),
    Own("isolators_free", "Isolators Free", number, unit="qty"),
    Own(
        "isolator_stack",
        "Isolator Stack",
        word(
            complete="OK",
            washer_missing="Washer missing",
            damaged="Damaged",
            isolator_missing="Isolator missing",
        ),
    ),
    Own("metal_contact", "Metal-to-Metal?", word(yes="Y", no="N")),
    Own("smallest_clearance_in", "Min Clearance", number, unit="in"),
    Own("breather", "Breather", word(open="Open", plugged="Plugged")),
    Own("oil_level", "Oil Level", word(right="OK", high="High", low="Low")),
    Own("running_temperature_f", "Housing Temp", number, unit="°F"),
    Own("seal_weep", "Output Seal", word(dry="Dry", damp="Damp", dripping="Dripping")),
)
OF_EVENTS = (
    Own("event_id", "Ref"),
    Own("unit_id", "Tag No."),
    Own("occurred_on", "Failed On", month_first),
    Own(
        "mode",
        "What Failed",
        word(
            low_speed_bearing="Output bearing",
            seal_leak="Seal leak",
            joint_slip="Slipped on shaft",
            other="Other",
        ),
    ),
    Own("downtime_h", "Downtime", number, unit="hrs"),
)
OF_REWORK = (
    Own("rework_id", "W/O"),
    Own("unit_id", "Tag No."),
    Own("done_on", "Date Done", month_first),
    Own("actions", "Work Done", words(ACTIONS, " / ")),
    Own("hours", "Labor", number, unit="hrs"),
)
SHEETS = {
    "units": ("Gearbox List", OF_UNITS),
    "walkdowns": ("Rounds", OF_WALKDOWNS),
    "events": ("Breakdowns", OF_EVENTS),
    "rework": ("Repairs", OF_REWORK),
}
ANSWERS = (
    Answer("word", "Rounds", "PM round", "periodic", "a PM round is the periodic visit"),
    Answer("word", "Rounds", "New install", "post_install", "the first look after hanging"),
    Answer("word", "Gearbox List", "Straight bore, keyed", "keyed_bore", "key in a plain bore"),
    Answer("column", "Gearbox List", "Area", "site", "areas are our sites"),
    Answer("column", "Gearbox List", "Motor", "motor_power_kw", "power of the motor"),
    Answer("column", "Rounds", "Output Seal", "seal_weep", "whether the output seal weeps"),
    Answer("word", "Breakdowns", "Output bearing", "low_speed_bearing", "the low-speed bearing"),
    Answer("word", "Repairs", "cleared breather", "open_breather", "the breather was opened"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "grain_port",
        "North quay",
        50,
        named="GB-{:04d}".format,
        sites=("Receiving", "Shipping", "Annex"),
        of_units=(
            "driven_equipment",
            "installed_on",
            "mounting",
            "shaft_diameter_mm",
            "required_engagement_mm",
            "output_torque_nm",
            "output_speed_rpm",
            "motor_power_kw",
            "unit_mass_kg",
        ),
        of_walkdowns=(
            "inspected_on",
            "kind",
            "engagement_mm",
            "shaft_runout_mm",
            "isolators_free",
            "isolator_stack",
            "metal_contact",
            "smallest_clearance_mm",
            "breather",
            "oil_level",
            "running_temperature_c",
            "seal_weep",
        ),
    )
    tables = in_pounds_and_inches(with_work_of(tables, list(ACTIONS)))
    kept = {name: columns for name, (_, columns) in SHEETS.items()}
    return two_months(folder, tables, kept, write, ANSWERS)


def in_pounds_and_inches(tables: Tables) -> Tables:
    """Say everything as it was read there; both the plant and the careful person use this."""
    units, walkdowns = tables["units"].copy(), tables["walkdowns"].copy()
    units["shaft_diameter_mm"] = units["shaft_diameter_mm"].map(sixteenths)
    units = units.rename(columns={"shaft_diameter_mm": "shaft_diameter_in"})
    in_unit(units, "required_engagement_mm", "in", 1 / 25.4, 2)
    in_unit(units, "output_torque_nm", "lbft", 0.737562, 0)
    in_unit(units, "motor_power_kw", "hp", 1.34102, 1)
    in_unit(units, "unit_mass_kg", "lb", 2.20462, 0)
    in_unit(walkdowns, "engagement_mm", "in", 1 / 25.4, 2)
    in_unit(walkdowns, "shaft_runout_mm", "in", 1 / 25.4, 4)
    in_unit(walkdowns, "smallest_clearance_mm", "in", 1 / 25.4, 2)
    warm = walkdowns["running_temperature_c"]
    told = [str(round(float(v) * 1.8 + 32)) if v else "" for v in warm]
    walkdowns = walkdowns.assign(running_temperature_c=told)
    walkdowns = walkdowns.rename(columns={"running_temperature_c": "running_temperature_f"})
    return {**tables, "units": units, "walkdowns": walkdowns}


def sixteenths(millimetres: str) -> str:
    """Say a shaft as 2 15/16."""
    whole, rest = divmod(Fraction(round(float(millimetres) / 25.4 * 16), 16), 1)
    return f"{whole} {rest}" if rest else str(whole)


def write(folder: Path, tables: Tables) -> tuple[Source, ...]:
    path = folder / "Shaft Mount Reducers.xlsx"
    write_workbook(
        path, {sheet: page(tables[name], columns) for name, (sheet, columns) in SHEETS.items()}
    )
    return (Source(path),)


def page(rows: pd.DataFrame, columns: Sequence[Own]) -> Sheet:
    units = [one.unit or None for one in columns]
    return Sheet([headings(columns), units, *written(rows, columns)])
