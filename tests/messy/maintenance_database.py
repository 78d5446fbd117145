"""A database of the plant's own behind queries; codes for words, 1 and 0 for yes and no."""

from collections.abc import Sequence
from pathlib import Path

from kept_records import kept_records, with_work_of
from messy_fleet import Answer, MessyFleet, Source, Tables
from own_files import write_database
from own_writing import Own, number, word, words, written
from two_months import two_months

ACTIONS = {
    "renew_seal": "RENEW SEAL",
    "realign_arm": "REALIGN ARM",
    "back_off_isolators": "BACK OFF ISOLATORS",
    "correct_oil_level": "CORRECT OIL LEVEL",
    "tighten_arm_bolts": "TIGHTEN ARM BOLTS",
}
OF_UNITS = (
    Own("unit_id", "equip_no TEXT"),
    Own("site", "loc_name TEXT"),
    Own("installed_on", "install_dt TEXT"),
    Own(
        "mounting",
        "mount_cd TEXT",
        word(
            keyed_bore="KEYED",
            tapered_bushing="TPBUSH",
            shrink_disc="SHRINK",
            shrink_disc_support_bushings="SHRINK+SB",
        ),
    ),
    Own("shaft_diameter_mm", "shaft_dia REAL", number),
    Own("output_torque_nm", "out_torque REAL", number),
    Own("output_speed_rpm", "out_speed REAL", number),
    Own("motor_power_kw", "motor_power REAL", number),
)
OF_WALKDOWNS = (
    Own("walkdown_id", "insp_no TEXT"),
    Own("unit_id", "equip_no TEXT"),
    Own("inspected_on", "insp_dt TEXT"),
    Own(
        "kind",
        "insp_type TEXT",
        word(post_install="INST", after_start="START", periodic="PM", after_rework="REWORK"),
    ),
    Own("inspector", "inspector TEXT"),
    Own("seated", "seated_yn INTEGER", lambda text: int(text == "home")),
    Own("shaft_runout_mm", "runout REAL", number),
    Own("isolators_free", "isol_free INTEGER", number),
    Own("metal_contact", "metal_contact_yn INTEGER", lambda text: int(text == "yes")),
    Own("smallest_clearance_mm", "min_clearance REAL", number),
    Own("oil_level", "oil_level TEXT", word(right="OK", high="HI", low="LO")),
    Own("breather", "breather TEXT", word(open="OPEN", plugged="PLUGGED")),
    Own("running_temperature_c", "hsg_temp REAL", number),
    Own("seal_weep", "seal_cond TEXT", word(dry="DRY", damp="DAMP", dripping="DRIP")),
)
OF_EVENTS = (
    Own("event_id", "notif_no TEXT"),
    Own("unit_id", "equip_no TEXT"),
    Own("occurred_on", "failure_dt TEXT"),
    Own(
        "mode",
        "failure_mode TEXT",
        word(
            low_speed_bearing="LS BRG",
            seal_leak="SEAL LEAK",
            joint_slip="JOINT SLIP",
            other="OTHER",
        ),
    ),
    Own("downtime_h", "downtime_hrs REAL", number),
)
OF_REWORK = (
    Own("rework_id", "wo_no TEXT"),
    Own("unit_id", "equip_no TEXT"),
    Own("done_on", "finish_dt TEXT"),
    Own("actions", "task_text TEXT", words(ACTIONS, "; ")),
)
COLUMNS = {"units": OF_UNITS, "walkdowns": OF_WALKDOWNS, "events": OF_EVENTS, "rework": OF_REWORK}
QUERIES = (
    (
        "SELECT e.equip_no, l.loc_name, e.install_dt, e.mount_cd, e.shaft_dia, e.out_torque, "
        "e.out_speed, e.motor_power FROM equipment e JOIN location l ON l.loc_id = e.loc_id "
        "WHERE e.class_cd = 'SMR'"
    ),
    (
        "SELECT i.* FROM inspection i JOIN equipment e ON e.equip_no = i.equip_no "
        "WHERE e.class_cd = 'SMR'"
    ),
    "SELECT notif_no, equip_no, failure_dt, failure_mode, downtime_hrs FROM notification",
    "SELECT wo_no, equip_no, finish_dt, task_text FROM work_order WHERE status = 'CLOSED'",
)
ANSWERS = (
    Answer("unit", "", "length", "mm", "all lengths in the database are millimetres"),
    Answer("unit", "", "out_torque", "nm", "torque is in newton metres"),
    Answer("unit", "", "motor_power", "kw", "power is in kilowatts"),
    Answer("unit", "", "hsg_temp", "c", "temperatures are degrees Celsius"),
    Answer("word", "", "TPBUSH", "tapered_bushing", "code of the tapered bushing"),
    Answer("word", "", "SHRINK+SB", "shrink_disc_support_bushings", "with support bushings"),
    Answer("word", "", "PM", "periodic", "the periodic visit"),
    Answer("word", "", "INST", "post_install", "the visit after installation"),
    Answer("word", "", "LS BRG", "low_speed_bearing", "the low-speed bearing"),
    Answer("yes", "", "seated_yn", "seated=home", "1: home, 0: short"),
)


def make(folder: Path) -> MessyFleet:
    tables = kept_records(
        "ore_works",
        "Train loading",
        50,
        named="{:08d}".format,
        sites=("Loadout", "Reclaim"),
        of_units=[one.column for one in OF_UNITS[2:]],
        of_walkdowns=[one.column for one in OF_WALKDOWNS[2:]],
    )
    tables = with_work_of(tables, list(ACTIONS))
    return two_months(folder, tables, COLUMNS, write, ANSWERS)


def write(folder: Path, tables: Tables) -> tuple[Source, ...]:
    """Write the database, with equipment and orders in it that are no concern of ours."""
    sites = sorted(set(tables["units"]["site"]))
    units = written(tables["units"], OF_UNITS)
    of_units = ["equip_no TEXT", "loc_id INTEGER", *types(OF_UNITS[2:]), "class_cd TEXT"]
    equipment = [[row[0], sites.index(row[1]) + 1, *row[2:], "SMR"] for row in units]
    pump = ["90000001", 1, "2019-05-04", None, None, None, 1450, 11, "PUMP"]
    orders = [[*row, "CLOSED"] for row in written(tables["rework"], OF_REWORK)]
    planned = ["W99999", units[0][0], None, "RENEW SEAL", "PLANNED"]
    path = folder / "maintenance.db"
    write_database(
        path,
        {
            "location": (["loc_id INTEGER", "loc_name TEXT"], list(enumerate(sites, 1))),
            "equipment": (of_units, [*equipment, pump]),
            "inspection": (types(OF_WALKDOWNS), written(tables["walkdowns"], OF_WALKDOWNS)),
            "notification": (types(OF_EVENTS), written(tables["events"], OF_EVENTS)),
            "work_order": ([*types(OF_REWORK), "status TEXT"], [*orders, planned]),
        },
    )
    return tuple(Source(path, query=query) for query in QUERIES)


def types(columns: Sequence[Own]) -> list[str]:
    return [one.heading for one in columns]
