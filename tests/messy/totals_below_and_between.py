"""British; notes above, subtotals between the areas, totals and a legend below, 7-Mar-25."""

from collections.abc import Sequence
from pathlib import Path

import pandas as pd
from kept_records import kept_records, with_work_of
from messy_fleet import Answer, MessyFleet, Source, Tables
from own_files import Sheet, write_workbook
from own_writing import Cell, Own, headings, month_by_name, number, word, words, written
from two_months import two_months

ACTIONS = {
    "renew_seal": "Seal renewed",
    "true_shaft": "Shaft trued",
    "tighten_arm_bolts": "Arm bolts tightened",
    "correct_oil_level": "Oil level corrected",
    "restore_clearance": "Clearance restored",
    "fit_guard": "Guard fitted",
}
OF_UNITS = (
    Own("site", "Area"),
    Own("unit_id", "Drive no."),
    Own("driven_equipment", "Driven equipment"),
    Own("installed_on", "Date hung", month_by_name),
    Own(
        "mounting",
        "Fixing",
        word(
            keyed_bore="Key",
            tapered_bushing="Tapered bush",
            shrink_disc="Shrink disc",
            shrink_disc_support_bushings="Shrink disc, support bushes",
        ),
    ),
    Own("shaft_diameter_mm", "Shaft dia. (mm)", number),
    Own("output_torque_nm", "Running torque (Nm)", number),
    Own("output_speed_rpm", "Output rpm", number),
    Own("motor_power_kw", "Motor (kW)", number),
    Own("unit_mass_kg", "Weight (kg)", number),
    Own("downtime_cost_per_h", "Cost of downtime per hour", number),
    Own("currency", "Currency"),
)
OF_WALKDOWNS = (
    Own("site", "Area"),
    Own("unit_id", "Drive no."),
    Own("walkdown_id", "Sheet no."),
    Own("inspected_on", "Inspected", month_by_name),
    Own(
        "kind",
        "Type of visit",
        word(
            post_install="Handover",
            after_start="After start",
            periodic="Routine",
            after_rework="After re-work",
        ),
    ),
    Own("seated", "Home on shaft", word(home="Yes", short="No")),
    Own("shaft_runout_mm", "Shaft run-out (mm)", number),
    Own("arm_bolts", "Torque arm bolts", word(tight="Tight", loose="Loose", missing="Missing")),
    Own("metal_contact", "Metal to metal contact", word(yes="Yes", no="No")),
    Own("smallest_clearance_mm", "Least clearance (mm)", number),
    Own("oil_level", "Oil level", word(right="Correct", high="Overfilled", low="Low")),
    Own("guard", "Guard", word(fitted="Fitted", missing="Off")),
    Own("running_temperature_c", "Temperature (deg C)", number),
    Own("seal_weep", "Output seal", word(dry="Dry", damp="Weeping", dripping="Dripping")),
)
OF_EVENTS = (
    Own("event_id", "Report no."),
    Own("unit_id", "Drive no."),
    Own("occurred_on", "Date of failure", month_by_name),
    Own(
        "mode",
        "Failure",
        word(
            low_speed_bearing="Output bearing",
            seal_leak="Oil leak",
            joint_slip="Slip on shaft",
            other="Other",
        ),
    ),
    Own("downtime_h", "Hours lost", number),
)
OF_REWORK = (
    Own("rework_id", "Job no."),
    Own("unit_id", "Drive no."),
    Own("done_on", "Completed", month_by_name),
    Own("actions", "Work carried out", words(ACTIONS, "; ")),
    Own("hours", "Man-hours", number),
)
SHEETS = {
    "units": ("Drives", OF_UNITS),
    "walkdowns": ("Inspection log", OF_WALKDOWNS),
    "events": ("Failures", OF_EVENTS),
    "rework": ("Job log", OF_REWORK),
}
ANSWERS = (
    Answer("word", "Inspection log", "Handover", "post_install", "handover: after hanging it"),
    Answer("word", "Inspection log", "Weeping", "damp", "weeping is less than dripping"),
    Answer("word", "Inspection log", "Overfilled", "high", "overfilled: too much oil"),
    Answer("word", "Inspection log", "Off", "missing", "guard off: it is not there"),
    Answer("word", "Drives", "Key", "keyed_bore", "held by a key in a plain bore"),
    Answer("column", "Drives", "Area", "site", "an area is our site"),
    Answer("column", "Drives", "Weight (kg)", "unit_mass_kg", "mass of the unit with its motor"),
    Answer("word", "Failures", "Output bearing", "low_speed_bearing", "the low-speed bearing"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "ore_works",
        "Crusher hall",
        40,
        start=20,
        named="CV{:02d}-GR".format,
        sites=("Primary", "Secondary", "Screens"),
        of_units=[one.column for one in OF_UNITS if one.column not in {"site", "unit_id"}],
        of_walkdowns=[one.column for one in OF_WALKDOWNS[3:]],
    )
    tables = with_work_of(tables, list(ACTIONS))
    kept = {name: columns for name, (_, columns) in SHEETS.items()}
    kept["walkdowns"] = OF_WALKDOWNS[1:]  # the area is that of the unit
    return two_months(folder, tables, kept, write, ANSWERS)


def write(folder: Path, tables: Tables) -> tuple[Source, ...]:
    path = folder / "Reducer register.xlsx"
    area = tables["units"].set_index("unit_id")["site"]
    walkdowns = tables["walkdowns"]
    shown = {**tables, "walkdowns": walkdowns.assign(site=walkdowns["unit_id"].map(area))}
    write_workbook(
        path, {sheet: page(sheet, shown[name], own) for name, (sheet, own) in SHEETS.items()}
    )
    return (Source(path),)


def page(title: str, rows: pd.DataFrame, columns: Sequence[Own]) -> Sheet:
    """Write notes, a merged title, the rows area by area with subtotals, a total and a legend."""
    wide = len(columns)
    above: list[list[Cell]] = [
        [f"Harrow Lane works: {title.lower()}"],
        ["Controlled copy when printed in green. Ask the reliability office for changes."],
        [],
        headings(columns),
    ]
    body: list[list[Cell]] = []
    if "site" in rows:
        for area, members in rows.groupby("site", sort=False):
            body += written(members, columns)
            body.append([f"Subtotal {area}", len(members), *[None] * (wide - 2)])
    else:
        body += written(rows, columns)
    below: list[list[Cell]] = [
        [],
        ["Total", len(rows)],
        ["Legend: empty means not looked at"],
        ["End of list"],
    ]
    last = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[wide - 1]
    return Sheet([*above, *body, *below], (f"A1:{last}1", f"A2:{last}2"))
