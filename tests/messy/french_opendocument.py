"""French; an ODS workbook, headings of groups merged above the headings, yes and no as booleans."""

from collections.abc import Callable, Sequence
from itertools import groupby
from pathlib import Path

import pandas as pd
from kept_records import kept_records, with_work_of
from messy_fleet import Answer, MessyFleet, Source, Tables
from openpyxl.utils import get_column_letter
from own_files import Sheet, write_opendocument
from own_writing import Cell, Own, day, headings, number, word, words, written
from two_months import two_months

ACTIONS = {
    "renew_seal": "joint remplacé",
    "realign_arm": "bras réaligné",
    "replace_isolators": "silentblocs remplacés",
    "correct_oil_level": "niveau d'huile corrigé",
    "fit_guard": "carter de protection remonté",
}


def true_for(good: str) -> Callable[[str], Cell]:
    """Write TRUE for one word and FALSE for the other, as a spreadsheet keeps them."""
    return lambda text: text == good


OF_UNITS = (
    Own("unit_id", "Repère", group="Réducteur"),
    Own("site", "Atelier", group="Réducteur"),
    Own("driven_equipment", "Machine entraînée", group="Réducteur"),
    Own("installed_on", "Date de montage", day, group="Réducteur"),
    Own(
        "mounting",
        "Fixation sur l'arbre",
        word(
            keyed_bore="clavette",
            tapered_bushing="moyeu amovible",
            shrink_disc="frette de serrage",
            shrink_disc_support_bushings="frette de serrage et bagues d'appui",
        ),
        group="Arbre",
    ),
    Own("shaft_diameter_mm", "Diamètre de l'arbre (mm)", number, group="Arbre"),
    Own("shaft_tolerance", "Tolérance", group="Arbre"),
    Own("output_speed_rpm", "Vitesse de sortie (tr/min)", number, group="Entraînement"),
    Own("motor_power_kw", "Puissance moteur (kW)", number, group="Entraînement"),
    Own("duty_h_per_day", "Marche (h/jour)", number, group="Entraînement"),
    Own("backstop", "Antidévireur", true_for("yes"), group="Entraînement"),
)
OF_WALKDOWNS = (
    Own("walkdown_id", "N° de tournée", group="Tournée"),
    Own("unit_id", "Repère", group="Tournée"),
    Own("inspected_on", "Date", day, group="Tournée"),
    Own(
        "kind",
        "Motif",
        word(
            post_install="après montage",
            after_start="après démarrage",
            periodic="périodique",
            after_rework="après reprise",
        ),
        group="Tournée",
    ),
    Own("seated", "Emmanché à fond", true_for("home"), group="Arbre"),
    Own("shaft_runout_mm", "Faux-rond (mm)", number, group="Arbre"),
    Own("metal_contact", "Contact métal sur métal", true_for("yes"), group="Bras de réaction"),
    Own("isolators_free", "Silentblocs libres (nombre)", number, group="Bras de réaction"),
    Own("arm_misset_mm", "Décalage du bras (mm)", number, group="Bras de réaction"),
    Own(
        "oil_level",
        "Niveau d'huile",
        word(right="correct", high="trop haut", low="trop bas"),
        group="Carter",
    ),
    Own("breather", "Reniflard", word(open="libre", plugged="bouché"), group="Carter"),
    Own("guard", "Protecteur en place", true_for("fitted"), group="Carter"),
    Own("running_temperature_c", "Température (°C)", number, group="Carter"),
    Own(
        "seal_weep",
        "Joint de sortie",
        word(dry="sec", damp="humide", dripping="goutte"),
        group="Carter",
    ),
)
OF_EVENTS = (
    Own("event_id", "N°", group="Panne"),
    Own("unit_id", "Repère", group="Panne"),
    Own("occurred_on", "Date de la panne", day, group="Panne"),
    Own(
        "mode",
        "Nature",
        word(
            low_speed_bearing="roulement de sortie",
            seal_leak="fuite d'huile",
            joint_slip="glissement sur l'arbre",
            other="autre",
        ),
        group="Panne",
    ),
    Own("downtime_h", "Arrêt (h)", number, group="Suites"),
)
OF_REWORK = (
    Own("rework_id", "N°", group="Intervention"),
    Own("unit_id", "Repère", group="Intervention"),
    Own("done_on", "Faite le", day, group="Intervention"),
    Own("actions", "Travaux", words(ACTIONS, " + "), group="Suites"),
    Own("crew", "Équipe", group="Suites"),
)
SHEETS = {
    "units": ("Parc", OF_UNITS),
    "walkdowns": ("Tournées", OF_WALKDOWNS),
    "events": ("Pannes", OF_EVENTS),
    "rework": ("Interventions", OF_REWORK),
}
ANSWERS = (
    Answer("word", "Parc", "moyeu amovible", "tapered_bushing", "moyeu amovible: tapered bushing"),
    Answer("table", "Parc", "Parc", "units", "the sheet Parc lists the units"),
    Answer("column", "Parc", "Atelier", "site", "a workshop is our site"),
    Answer("column", "Tournées", "Reniflard", "breather", "the breather"),
    Answer("column", "Tournées", "Joint de sortie", "seal_weep", "whether the seal weeps"),
    Answer("yes", "Tournées", "Emmanché à fond", "seated=home", "TRUE: home; FALSE: short"),
    Answer(
        "yes", "Tournées", "Protecteur en place", "guard=fitted", "TRUE: fitted; FALSE: missing"
    ),
    Answer("word", "Tournées", "après reprise", "after_rework", "the visit after re-work"),
    Answer("column", "Tournées", "Décalage du bras (mm)", "arm_misset_mm", "along the shaft"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "grain_port",
        "Silo house",
        40,
        named="R{:02d}".format,
        sites=("Réception", "Expédition"),
        of_units=[one.column for one in OF_UNITS[2:-1]],
        of_walkdowns=[one.column for one in OF_WALKDOWNS[2:]],
    )
    tables = with_work_of(tables, list(ACTIONS))
    inclined = ["yes" if place % 5 == 0 else "no" for place in range(len(tables["units"]))]
    tables = {**tables, "units": tables["units"].assign(backstop=inclined)}
    kept = {name: columns for name, (_, columns) in SHEETS.items()}
    return two_months(folder, tables, kept, write, ANSWERS)


def write(folder: Path, tables: Tables) -> tuple[Source, ...]:
    path = folder / "Suivi réducteurs.ods"
    write_opendocument(
        path, {sheet: page(tables[name], columns) for name, (sheet, columns) in SHEETS.items()}
    )
    return (Source(path),)


def page(rows: pd.DataFrame, columns: Sequence[Own]) -> Sheet:
    above, merged = [], []
    for group, members in groupby(one.group for one in columns):
        start, wide = len(above) + 1, len(list(members))
        above += [group, *[None] * (wide - 1)]
        if wide > 1:
            merged.append(f"{get_column_letter(start)}1:{get_column_letter(start + wide - 1)}1")
    return Sheet([above, headings(columns), *written(rows, columns)], tuple(merged))
