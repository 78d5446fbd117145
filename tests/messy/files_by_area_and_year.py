"""German; a list of drives for each hall, visits year by year and month by month, 07.03.2025."""

from pathlib import Path

import pandas as pd
from kept_records import kept_records, with_work_of
from messy_fleet import Answer, MessyFleet, Source, Tables
from own_files import write_text
from own_writing import Own, comma, day_first, headings, word, words, written
from two_months import two_months

DAY = day_first(".")
ACTIONS = {
    "renew_seal": "Wellendichtring erneuert",
    "retorque_in_passes": "in Stufen nachgezogen",
    "tighten_arm_bolts": "Stützenschrauben nachgezogen",
    "replace_isolators": "Gummipuffer ersetzt",
    "open_breather": "Entlüfter gereinigt",
}
OF_UNITS = (
    Own("unit_id", "Getriebe"),
    Own("site", "Halle"),
    Own("line", "Band"),
    Own("installed_on", "Eingebaut", DAY),
    Own("started_on", "In Betrieb seit", DAY),
    Own("failures_recorded_from", "Ausfälle erfasst ab", DAY),
    Own(
        "mounting",
        "Befestigungsart",
        word(
            keyed_bore="Passfederverbindung",
            tapered_bushing="Kegelbuchse",
            shrink_disc="Schrumpfscheibe",
            shrink_disc_support_bushings="Schrumpfscheibe + Stützbuchsen",
        ),
    ),
    Own("shaft_diameter_mm", "Wellen-Ø (mm)", comma),
    Own("shaft_tolerance", "Passung"),
    Own("motor_power_kw", "P Motor (kW)", comma),
    Own("output_speed_rpm", "n ab (1/min)", comma),
    Own("screw_count", "Anzahl Spannschrauben", comma),
    Own("screw_torque_nm", "Anzugsmoment (Nm)", comma),
)
OF_WALKDOWNS = (
    Own("walkdown_id", "Protokoll"),
    Own("unit_id", "Getriebe"),
    Own("inspected_on", "Datum", DAY),
    Own(
        "kind",
        "Art der Begehung",
        word(
            post_install="nach Montage",
            after_start="nach Inbetriebnahme",
            periodic="wiederkehrend",
            after_rework="nach Instandsetzung",
        ),
    ),
    Own("torque_passes", "Anzugsdurchgänge", comma),
    Own("final_torque_nm", "Anzugsmoment zuletzt (Nm)", comma),
    Own("screws_low", "Schrauben unter Soll", comma),
    Own("shaft_runout_mm", "Rundlauf Welle (mm)", comma),
    Own("isolators_free", "Puffer frei", comma),
    Own("metal_contact", "Metallkontakt", word(yes="x", no="-")),
    Own("arm_angle_deg", "Winkel Drehmomentstütze (°)", comma),
    Own("breather", "Entlüftung", word(open="frei", plugged="zu")),
    Own("oil_level", "Ölstand", word(right="i.O.", high="hoch", low="niedrig")),
    Own("vibration_mm_s", "Schwingung (mm/s)", comma),
    Own("seal_weep", "Dichtung", word(dry="trocken", damp="feucht", dripping="tropfend")),
)
OF_EVENTS = (
    Own("event_id", "Meldung"),
    Own("unit_id", "Getriebe"),
    Own("occurred_on", "Ausfalldatum", DAY),
    Own(
        "mode",
        "Schadensbild",
        word(
            low_speed_bearing="Abtriebslager",
            seal_leak="Leckage",
            joint_slip="Durchrutschen",
            other="Sonstiges",
        ),
    ),
    Own("downtime_h", "Stillstand (h)", comma),
)
OF_REWORK = (
    Own("rework_id", "Auftrag"),
    Own("unit_id", "Getriebe"),
    Own("done_on", "Erledigt am", DAY),
    Own("actions", "Arbeiten", words(ACTIONS, " / ")),
)
COLUMNS = {"units": OF_UNITS, "walkdowns": OF_WALKDOWNS, "events": OF_EVENTS, "rework": OF_REWORK}
ANSWERS = (
    Answer("word", "Antriebe", "Kegelbuchse", "tapered_bushing", "a tapered bushing"),
    Answer("word", "Begehungen", "x", "yes", "a cross means yes, metal touches"),
    Answer("word", "Begehungen", "-", "no", "a dash means no, it does not"),
    Answer("word", "Begehungen", "zu", "plugged", "zu: the breather is closed"),
    Answer("word", "Begehungen", "i.O.", "right", "in order: the oil level is right"),
    Answer("column", "Antriebe", "Halle", "site", "a hall is our site"),
    Answer("column", "Begehungen", "Puffer frei", "isolators_free", "rubber bushings that turn"),
    Answer("column", "Begehungen", "Dichtung", "seal_weep", "whether the output seal weeps"),
    Answer("word", "Ausfälle", "Abtriebslager", "low_speed_bearing", "the low-speed bearing"),
    Answer("word", "Nacharbeit", "Entlüfter gereinigt", "open_breather", "so that it is open"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "ore_works",
        "Long belt",
        60,
        named="{:04d}".format,
        sites=("Halle 1", "Halle 2", "Freifläche"),
        of_units=[one.column for one in OF_UNITS[2:]],
        of_walkdowns=[one.column for one in OF_WALKDOWNS[2:]],
    )
    tables = with_work_of(tables, list(ACTIONS))
    return two_months(folder, tables, COLUMNS, write, ANSWERS)


def write(folder: Path, tables: Tables) -> tuple[Source, ...]:
    units, walkdowns = tables["units"], tables["walkdowns"]
    files = {f"Antriebe {hall}.csv": ("units", members) for hall, members in units.groupby("site")}
    year = walkdowns["inspected_on"].str[:4]
    # the year that runs is kept month by month
    period = year.where(year != "2026", walkdowns["inspected_on"].str[:7])
    for name, members in walkdowns.groupby(period):
        files[f"Begehungen {name}.csv"] = ("walkdowns", members)
    files["Ausfälle.csv"] = ("events", tables["events"])
    files["Nacharbeit.csv"] = ("rework", tables["rework"])
    for file, (name, rows) in files.items():
        write_text(folder / file, table(name, rows), ";", order_mark=True)
    return tuple(Source(folder / file) for file in files)


def table(name: str, rows: pd.DataFrame) -> list[list[object]]:
    return [headings(COLUMNS[name]), *written(rows, COLUMNS[name])]
