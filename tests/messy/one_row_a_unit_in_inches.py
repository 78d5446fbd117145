"""United States; a flat text file, a row a unit, no unit anywhere, no day after the twelfth."""

from pathlib import Path

import pandas as pd
from flat_records import flat_as_of_first, flat_records, split
from inches_in_a_row_below import sixteenths
from kept_records import FIRST, SECOND, in_unit, kept_records
from messy_fleet import Answer, MessyFleet, Month, Source
from own_files import write_text
from own_writing import Own, headings, month_first, word, written

FILE = "reducer list.csv"
SITE = "Copper Flat mill"
YES = word(yes="Yes", no="No")
OF_UNITS = (
    Own("unit_id", "Conveyor"),
    Own("installed_on", "Installed", month_first),
    Own(
        "mounting",
        "Bore",
        word(
            keyed_bore="Keyed",
            tapered_bushing="TL bushing",
            shrink_disc="Shrink disc",
            shrink_disc_support_bushings="Shrink disc + supports",
        ),
    ),
    Own("shaft_diameter_in", "Shaft Size"),
    Own("motor_power_hp", "HP"),
    Own("output_speed_rpm", "RPM"),
)
OF_WALKDOWNS = (
    Own("inspected_on", "Last Inspected", month_first),
    Own("seated", "Fully Seated", word(home="Yes", short="No")),
    Own("engagement_in", "Engagement"),
    Own("shaft_runout_in", "Runout"),
    Own("arm_bolts", "Torque Arm Bolts", word(tight="Tight", loose="Loose", missing="Missing")),
    Own("metal_contact", "Metal Contact", YES),
    Own("smallest_clearance_in", "Clearance"),
    Own("oil_level", "Oil", word(right="OK", high="High", low="Low")),
    Own("breather", "Breather", word(open="Open", plugged="Plugged")),
    Own("guard", "Guard On", word(fitted="Yes", missing="No")),
)
OF_WORK = (
    Own("back_off_isolators", "Isolators Backed Off", YES),
    Own("tighten_arm_bolts", "Arm Bolts Tightened", YES),
    Own("correct_oil_level", "Oil Corrected", YES),
    Own("open_breather", "Breather Cleared", YES),
    Own("renew_seal", "Seal Replaced", YES),
)
FAILED = Own("occurred_on", "Bearing Failed", month_first)
ANSWERS = (
    Answer("dates", FILE, "", "month first", "3/7/2025 is the seventh of March"),
    Answer("unit", FILE, "length", "in", "shafts, engagement, run-out, clearance: inches"),
    Answer("word", FILE, "TL bushing", "tapered_bushing", "a tapered bushing"),
    Answer("column", FILE, "Conveyor", "unit_id", "each conveyor has one unit"),
    Answer("column", FILE, "Bore", "mounting", "how it holds the shaft"),
    Answer("every row", FILE, "site", SITE, "all of it stands in one mill"),
    Answer("every row", FILE, "kind", "periodic", "these are the periodic visits"),
    Answer("column", FILE, "Bearing Failed", "low_speed_bearing", "the low-speed bearing"),
    Answer("yes", FILE, "Fully Seated", "seated=home", "Yes: fully on the shaft"),
    Answer("yes", FILE, "Guard On", "guard=fitted", "Yes: the guard is there"),
)


def make(folder: Path) -> MessyFleet:
    tables = dict(
        kept_records(
            "ore_works",
            "Upper pit",
            110,
            start=60,
            named="CV-{}".format,
            sites=(SITE,),
            of_units=(
                "installed_on",
                "mounting",
                "shaft_diameter_mm",
                "motor_power_kw",
                "output_speed_rpm",
            ),
            of_walkdowns=(
                "inspected_on",
                "kind",
                "seated",
                "engagement_mm",
                "shaft_runout_mm",
                "arm_bolts",
                "metal_contact",
                "smallest_clearance_mm",
                "oil_level",
                "breather",
                "guard",
            ),
        )
    )
    units, walkdowns, events = tables["units"], tables["walkdowns"], tables["events"]
    units["shaft_diameter_mm"] = units["shaft_diameter_mm"].map(sixteenths)
    tables["units"] = units.rename(columns={"shaft_diameter_mm": "shaft_diameter_in"})
    tables["units"]["installed_on"] = units["installed_on"].map(early_in_the_month)
    in_unit(tables["units"], "motor_power_kw", "hp", 1.34102, 1)
    for column, digits in (("engagement", 2), ("shaft_runout", 4), ("smallest_clearance", 2)):
        in_unit(walkdowns, f"{column}_mm", "in", 1 / 25.4, digits)
    early = walkdowns["inspected_on"].map(early_in_the_month) == walkdowns["inspected_on"]
    tables["walkdowns"] = walkdowns[early & (walkdowns["kind"] == "periodic")]
    bearing = events[events["mode"] == "low_speed_bearing"].copy()
    bearing["occurred_on"] = bearing["occurred_on"].map(early_in_the_month)
    hung = bearing["unit_id"].map(tables["units"].set_index("unit_id")["installed_on"])
    tables["events"] = bearing[bearing["occurred_on"] >= hung]
    actions = [one.column for one in OF_WORK]
    rows = flat_records(tables, actions, dated=False)
    first = flat_as_of_first(rows, actions)
    return MessyFleet(
        month(folder, FIRST, last_of_each_unit(first, tables["events"], FIRST)),
        month(folder, SECOND, last_of_each_unit(rows, tables["events"], SECOND)),
        ANSWERS,
    )


def early_in_the_month(day: str) -> str:
    """Leave a day up to the twelfth, and put a later one on the first of its month."""
    return day if int(day[8:]) <= 12 else f"{day[:8]}01"


def last_of_each_unit(rows: pd.DataFrame, events: pd.DataFrame, as_of: str) -> pd.DataFrame:
    """Keep the last visit and failure of each unit, as a list does that is written over."""
    kept = rows.groupby("unit_id", sort=False).tail(1).reset_index(drop=True)
    failed = events[events["occurred_on"] <= as_of].groupby("unit_id")["occurred_on"].max()
    kept["occurred_on"] = kept["unit_id"].map(failed).fillna("")
    kept["mode"] = kept["occurred_on"].map(lambda day: "low_speed_bearing" if day else "")
    return kept


def month(folder: Path, as_of: str, rows: pd.DataFrame) -> Month:
    path = folder / as_of / FILE
    columns = (*OF_UNITS, *OF_WALKDOWNS, *OF_WORK, FAILED)
    write_text(path, [headings(columns), *written(rows, columns)])
    clean = split(
        rows,
        ["site", *(one.column for one in OF_UNITS[1:])],
        ["kind", *(one.column for one in OF_WALKDOWNS)],
        [one.column for one in OF_WORK],
    )
    return Month(as_of, (Source(path),), clean)
