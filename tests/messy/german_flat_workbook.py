"""German; one flat sheet for everything, notes above the heading, ja and nein for each job done."""

from pathlib import Path

import pandas as pd
from kept_records import kept_records
from messy_fleet import Answer, MessyFleet, Source
from own_files import Sheet, write_workbook
from own_writing import Own, day, headings, number, word, written
from two_months import two_flat_months

SHEET = "Begehungen"
JA_NEIN = word(yes="ja", no="nein")

OF_UNITS = (
    Own("unit_id", "Antrieb-Nr."),
    Own("site", "Werksteil"),
    Own("installer", "Montiert durch"),
    Own("installed_on", "Montagedatum", day),
    Own(
        "mounting",
        "Wellenbefestigung",
        word(
            keyed_bore="Passfeder",
            tapered_bushing="Klemmbuchse",
            shrink_disc="Schrumpfscheibe",
            shrink_disc_support_bushings="Schrumpfscheibe mit Stützbuchsen",
        ),
    ),
    Own("shaft_diameter_mm", "Wellendurchmesser [mm]", number),
    Own("output_torque_nm", "Abtriebsdrehmoment [Nm]", number),
    Own("output_speed_rpm", "Abtriebsdrehzahl [1/min]", number),
    Own("motor_power_kw", "Motorleistung [kW]", number),
    Own("duty_h_per_day", "Betriebsstunden pro Tag", number),
)
OF_WALKDOWNS = (
    Own("inspected_on", "Begangen am", day),
    Own(
        "kind",
        "Anlass",
        word(
            post_install="Abnahme",
            after_start="nach Anlauf",
            periodic="regelmäßig",
            after_rework="nach Nacharbeit",
        ),
    ),
    Own("inspector", "Prüfer"),
    Own("seated", "Sitzt ganz auf der Welle", word(home="ja", short="nein")),
    Own("shaft_runout_mm", "Wellenschlag [mm]", number),
    Own(
        "arm_bolts", "Schrauben Drehmomentstütze", word(tight="fest", loose="lose", missing="fehlt")
    ),
    Own("isolators_free", "Gummipuffer von Hand drehbar (Anzahl)", number),
    Own("metal_contact", "Metall auf Metall", JA_NEIN),
    Own("smallest_clearance_mm", "Kleinster Abstand [mm]", number),
    Own("breather", "Entlüfter", word(open="offen", plugged="verschlossen")),
    Own("oil_level", "Ölstand", word(right="richtig", high="zu hoch", low="zu niedrig")),
    Own("guard", "Schutzhaube", word(fitted="vorhanden", missing="fehlt")),
    Own("seal_weep", "Wellendichtring", word(dry="trocken", damp="feucht", dripping="tropft")),
)
OF_WORK = (
    Own("back_off_isolators", "Puffer gelockert", JA_NEIN),
    Own("open_breather", "Entlüfter geöffnet", JA_NEIN),
    Own("correct_oil_level", "Ölstand berichtigt", JA_NEIN),
    Own("tighten_arm_bolts", "Stützenschrauben nachgezogen", JA_NEIN),
    Own("fit_guard", "Schutz angebracht", JA_NEIN),
    Own("renew_seal", "Dichtring erneuert", JA_NEIN),
)
AND_THEN = (
    Own("done_on", "Nachgearbeitet am", day),
    Own("occurred_on", "Ausfall am", day),
    Own(
        "mode",
        "Ausfallart",
        word(
            low_speed_bearing="Lagerschaden",
            seal_leak="Leckage",
            joint_slip="durchgerutscht",
            other="Sonstiges",
        ),
    ),
)
ANSWERS = (
    Answer("yes", SHEET, "Sitzt ganz auf der Welle", "seated=home", "ja: fully on the shaft"),
    Answer("word", SHEET, "Klemmbuchse", "tapered_bushing", "Klemmbuchse: the tapered bushing"),
    Answer("word", SHEET, "Abnahme", "post_install", "Abnahme: the visit after installation"),
    Answer("column", SHEET, "Puffer gelockert", "back_off_isolators", "rubber backed off"),
    Answer("column", SHEET, "Wellendichtring", "seal_weep", "whether the output seal weeps"),
    Answer("column", SHEET, "Werksteil", "site", "the part of the works is our site"),
    Answer("column", SHEET, "Ausfall am", "occurred_on", "the day on which it failed"),
    Answer("column", SHEET, "Nachgearbeitet am", "done_on", "the day on which it was mended"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "ore_works",
        "Wash house",
        40,
        named="AG{:03d}".format,
        sites=("Wäsche", "Sieberei"),
        of_units=[one.column for one in OF_UNITS[2:]],
        of_walkdowns=[one.column for one in OF_WALKDOWNS],
    )
    return two_flat_months(
        folder,
        tables,
        write,
        ANSWERS,
        of_units=OF_UNITS,
        of_walkdowns=OF_WALKDOWNS,
        of_work=OF_WORK,
        dated=True,
    )


def write(folder: Path, rows: pd.DataFrame, as_of: str) -> Source:
    above = [
        ["Kieswerk Auental: Aufsteckgetriebe, Begehungen und Nacharbeit"],
        [f"Stand {as_of[8:]}.{as_of[5:7]}.{as_of[:4]}, gepflegt von der Instandhaltung"],
        [],
    ]
    columns = (*OF_WALKDOWNS[:1], *OF_UNITS, *OF_WALKDOWNS[1:], *OF_WORK, *AND_THEN)
    path = folder / "Begehungen Antriebe.xlsx"
    hints = Sheet([["Hinweise"], ["Leere Zelle: nicht angesehen."]])
    listed = Sheet([*above, headings(columns), *written(rows, columns)])
    write_workbook(path, {"Hinweise": hints, SHEET: listed})
    return Source(path)
