"""Spanish; four text files with semicolons and decimal commas, sí and no."""

from pathlib import Path

from kept_records import kept_records, with_work_of
from messy_fleet import Answer, MessyFleet, Source, Tables
from own_files import write_text
from own_writing import Own, comma, day_first, headings, word, words, written
from two_months import two_months

DAY = day_first("/")
ACTIONS = {
    "renew_seal": "cambio de retén",
    "retorque_in_passes": "reapriete por etapas",
    "realign_arm": "alineación del brazo",
    "correct_oil_level": "corrección del nivel de aceite",
    "fit_guard": "montaje de la guarda",
    "open_breather": "apertura del respiradero",
}
OF_UNITS = (
    Own("unit_id", "Equipo"),
    Own("site", "Planta"),
    Own("line", "Línea"),
    Own("installer", "Montador"),
    Own("installed_on", "Fecha de montaje", DAY),
    Own("started_on", "Puesta en marcha", DAY),
    Own(
        "mounting",
        "Fijación al eje",
        word(
            keyed_bore="chaveta",
            tapered_bushing="casquillo cónico",
            shrink_disc="disco de contracción",
            shrink_disc_support_bushings="disco de contracción con casquillos de apoyo",
        ),
    ),
    Own("shaft_diameter_mm", "Diámetro del eje (mm)", comma),
    Own("required_engagement_mm", "Inserción requerida (mm)", comma),
    Own("output_torque_nm", "Par de salida (Nm)", comma),
    Own("motor_power_kw", "Potencia del motor (kW)", comma),
    Own("screw_torque_nm", "Par de apriete (Nm)", comma),
)
OF_WALKDOWNS = (
    Own("walkdown_id", "N.º de inspección"),
    Own("unit_id", "Equipo"),
    Own("inspected_on", "Fecha", DAY),
    Own(
        "kind",
        "Tipo de inspección",
        word(
            post_install="tras el montaje",
            after_start="tras el arranque",
            periodic="periódica",
            after_rework="tras la reparación",
        ),
    ),
    Own("inspector", "Inspector"),
    Own("engagement_mm", "Inserción del eje (mm)", comma),
    Own("shaft_runout_mm", "Alabeo del eje (mm)", comma),
    Own("final_torque_nm", "Par final (Nm)", comma),
    Own(
        "arm_bolts",
        "Tornillos del brazo",
        word(tight="apretados", loose="flojos", missing="faltan"),
    ),
    Own("isolators_free", "Silentblocks libres", comma),
    Own("metal_contact", "Contacto metálico", word(yes="sí", no="no")),
    Own("arm_misset_mm", "Desalineación del brazo (mm)", comma),
    Own("arm_angle_deg", "Ángulo del brazo (°)", comma),
    Own("breather", "Respiradero", word(open="abierto", plugged="obstruido")),
    Own("oil_level", "Nivel de aceite", word(right="correcto", high="alto", low="bajo")),
    Own("guard", "Guarda", word(fitted="montada", missing="falta")),
    Own("vibration_mm_s", "Vibración (mm/s)", comma),
    Own("seal_weep", "Retén de salida", word(dry="seco", damp="húmedo", dripping="gotea")),
)
OF_EVENTS = (
    Own("event_id", "Avería"),
    Own("unit_id", "Equipo"),
    Own("occurred_on", "Fecha de la avería", DAY),
    Own(
        "mode",
        "Modo de fallo",
        word(
            low_speed_bearing="rodamiento de salida",
            seal_leak="fuga de aceite",
            joint_slip="deslizamiento",
            other="otro",
        ),
    ),
    Own("downtime_h", "Horas de parada", comma),
)
OF_REWORK = (
    Own("rework_id", "Orden"),
    Own("unit_id", "Equipo"),
    Own("done_on", "Fecha del trabajo", DAY),
    Own("actions", "Trabajos", words(ACTIONS, ", ")),
    Own("hours", "Horas", comma),
)
FILES = {
    "units": ("reductores.csv", OF_UNITS),
    "walkdowns": ("inspecciones.csv", OF_WALKDOWNS),
    "events": ("averías.csv", OF_EVENTS),
    "rework": ("trabajos.csv", OF_REWORK),
}
ANSWERS = (
    Answer("column", "inspecciones.csv", "Retén de salida", "seal_weep", "if the seal weeps"),
    Answer("column", "inspecciones.csv", "Silentblocks libres", "isolators_free", "rubber free"),
    Answer("column", "inspecciones.csv", "Alabeo del eje (mm)", "shaft_runout_mm", "run-out"),
    Answer("column", "reductores.csv", "Par de apriete (Nm)", "screw_torque_nm", "of the screws"),
    Answer("column", "reductores.csv", "Planta", "site", "the plant is our site"),
    Answer("word", "averías.csv", "rodamiento de salida", "low_speed_bearing", "output bearing"),
    Answer("word", "trabajos.csv", "reapriete por etapas", "retorque_in_passes", "in passes"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "ore_works",
        "Upper pit",
        45,
        named="RED-{}".format,
        sites=("Molienda", "Acopio"),
        of_units=[one.column for one in OF_UNITS[2:]],
        of_walkdowns=[one.column for one in OF_WALKDOWNS[2:]],
    )
    tables = with_work_of(tables, list(ACTIONS))
    kept = {name: columns for name, (_, columns) in FILES.items()}
    return two_months(folder, tables, kept, write, ANSWERS)


def write(folder: Path, tables: Tables) -> tuple[Source, ...]:
    for name, (file, columns) in FILES.items():
        rows = [headings(columns), *written(tables[name], columns)]
        write_text(folder / file, rows, ";", order_mark=True)
    return tuple(Source(folder / file) for file, _ in FILES.values())
