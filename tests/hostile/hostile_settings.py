"""Hostile answers of the form, settings, stores, backups, and places to read from and write to."""

import json
import os
import sqlite3
from pathlib import Path

from collection import UNIT, UNITS, Asked, fleet, hostile

WINDOWS = "window,crew_hours\n"
DEVICE = "/dev/zero"


def answers(place: Path, text: str | bytes) -> Asked:
    """Write a file of the form and ask for it beside a fleet."""
    data = text.encode() if isinstance(text, str) else text
    (place / "route.json").write_bytes(data)
    return ["check", fleet(place), "--add", str(place / "route.json")]


@hostile("route.json is not JSON")
def answers_of_no_bytes(place: Path) -> Asked:
    return answers(place, b"")


@hostile("nested too deep")
def answers_nested_a_hundred_thousand_deep(place: Path) -> Asked:
    return answers(place, "[" * 100_000)


@hostile("a name stands twice in one object")
def answers_with_a_name_twice(place: Path) -> Asked:
    return answers(place, '{"a": 1, "a": 2}')


@hostile("NaN is no number")
def answers_with_no_number(place: Path) -> Asked:
    return answers(place, '{"a": NaN}')


@hostile("is not plain JSON")
def answers_with_a_number_of_a_million_digits(place: Path) -> Asked:
    return answers(place, '{"a": ' + "9" * 1_000_000 + "}")


@hostile("was not written by the walkdown form")
def answers_of_another_program(place: Path) -> Asked:
    return answers(place, '{"written_by": "somebody"}')


@hostile("is not plain JSON")
def answers_in_latin_1(place: Path) -> Asked:
    return answers(place, '{"a": "é"}'.encode("latin-1"))


@hostile("a list of walkdowns")
def answers_whose_walkdowns_are_none(place: Path) -> Asked:
    said = {
        "written_by": "walkdown form without a network",
        "contract": "x",
        "route": "r",
        "saved_at": "now",
        "walkdowns": 7,
    }
    return answers(place, json.dumps(said))


@hostile("is larger than 100 MB", heavy=True)
def answers_of_two_hundred_megabytes(place: Path) -> Asked:
    return answers(place, b"[" + b"0," * 100_000_000 + b"0]")


@hostile("holds more than", heavy=True)
def answers_of_thirty_million_lists(place: Path) -> Asked:
    return answers(place, b"[" + b"[]," * 30_000_000 + b"[]]")


def plan(place: Path, option: str, text: str | bytes) -> Asked:
    data = text.encode() if isinstance(text, str) else text
    (place / "settings.csv").write_bytes(data)
    given = ["plan", fleet(place), option, str(place / "settings.csv"), "--as-of", "2024-06-01"]
    return given + ([] if option == "--windows" else ["--crew-hours", "8"])


@hostile("is no file; give a CSV file")
def headings_from_a_device_without_end(place: Path) -> Asked:
    return ["check", fleet(place), "--headings", DEVICE]


@hostile("is no file; give a CSV file")
def windows_from_a_device_without_end(place: Path) -> Asked:
    return ["plan", fleet(place), "--windows", DEVICE]


@hostile("is no file; give a CSV file")
def actions_from_a_device_without_end(place: Path) -> Asked:
    return ["plan", fleet(place), "--crew-hours", "8", "--actions", DEVICE]


@hostile("is no file; give a CSV file")
def minutes_from_a_device_without_end(place: Path) -> Asked:
    return [
        "look",
        fleet(place),
        "--hours",
        "8",
        "--minutes",
        "/dev/urandom",
        "--out",
        str(place / "r.csv"),
    ]


@hostile("is a directory")
def actions_from_a_folder(place: Path) -> Asked:
    return ["plan", fleet(place), "--crew-hours", "8", "--actions", str(place)]


@hostile("h is outside what is allowed")
def a_window_of_1e308_hours(place: Path) -> Asked:
    return plan(place, "--windows", WINDOWS + "winter,1e308\n")


@hostile("has more than 10 MB, as no file written by hand has")
def windows_of_twelve_megabytes(place: Path) -> Asked:
    return plan(place, "--windows", WINDOWS + "winter,8\n" * 1_400_000)


@hostile("have more or fewer cells than there are headings")
def windows_of_junk(place: Path) -> Asked:
    return plan(place, "--windows", WINDOWS + "a,b,c\n" * 100_000)


@hostile("is not UTF-8")
def actions_of_noise(place: Path) -> Asked:
    return plan(place, "--actions", b"site,action\n" + bytes(range(128, 256)))


@hostile("is not on the list")
def actions_that_nobody_knows(place: Path) -> Asked:
    return plan(place, "--actions", "action,hours\n" + "paint,1\n" * 50_000)


@hostile("keep one of the two rows")
def a_heading_that_stands_for_two_columns(place: Path) -> Asked:
    (place / "own.csv").write_text(
        "table,heading,column\nunits,machine,unit_id\nunits,machine,site\n"
    )
    return ["check", fleet(place), "--headings", str(place / "own.csv")]


@hostile("no table 'machines'")
def a_heading_of_a_table_that_is_not(place: Path) -> Asked:
    (place / "own.csv").write_text("table,heading,column\nmachines,machine,unit_id\n")
    return ["check", fleet(place), "--headings", str(place / "own.csv")]


def rank(address: str) -> Asked:
    return ["rank", address]


@hostile("names no file; give sqlite:///FILE")
def a_store_without_a_name(_: Path) -> Asked:
    return rank("sqlite:///")


@hostile("names no file; give sqlite:///FILE")
def a_store_in_passing_memory(_: Path) -> Asked:
    return ["load", "demo:small_quarry", "--store", "sqlite:///:memory:", "--by", "Ann Bell"]


@hostile("has words after a ?")
def a_store_with_words_after_its_name(place: Path) -> Asked:
    return rank(f"sqlite:///{place}/plant.db?mode=memory")


@hostile("can be no file (File name too long)")
def a_store_of_a_name_too_long(place: Path) -> Asked:
    return rank(f"sqlite:///{place}/{'a' * 300}.db")


@hostile("can be no file (File name too long)")
def a_store_of_a_path_too_long(place: Path) -> Asked:
    return ["load", "demo:small_quarry", "--by", "A", "--store", f"sqlite:///{place}{'/a' * 3000}"]


@hostile("is no store's address")
def a_store_at_a_port_of_letters(_: Path) -> Asked:
    return rank("postgresql://ann@127.0.0.1:abc/plant")


@hostile("is no store's address")
def a_store_at_half_an_address(_: Path) -> Asked:
    return rank("postgresql://ann:b@[::1/plant")


@hostile("is no store's address")
def a_store_of_another_database(_: Path) -> Asked:
    return rank("ftp://ann@example/plant")


@hostile("Connection refused")
def a_store_where_nobody_answers(_: Path) -> Asked:
    return rank("postgresql://ann@127.0.0.1:1/plant")


@hostile("cannot be used")
def a_store_with_an_option_that_is_not(_: Path) -> Asked:
    return rank("postgresql://ann@127.0.0.1:1/plant?nonsense=1")


@hostile("file is not a database")
def a_store_of_text(place: Path) -> Asked:
    (place / "plant.db").write_text("once upon a time " * 100)
    return rank(f"sqlite:///{place}/plant.db")


@hostile("cannot be used: unable to open database file")
def a_folder_for_a_store(place: Path) -> Asked:
    return rank(f"sqlite:///{place}")


@hostile("holds no store yet")
def a_store_of_no_bytes(place: Path) -> Asked:
    (place / "plant.db").touch()
    return rank(f"sqlite:///{place}/plant.db")


@hostile("has schema none")
def a_database_of_somebody_else(place: Path) -> Asked:
    with sqlite3.connect(place / "plant.db") as connection:
        connection.execute("CREATE TABLE units (unit_id TEXT)")
    connection.close()
    return rank(f"sqlite:///{place}/plant.db")


@hostile("cannot be restored: it is no whole ZIP file")
def a_backup_of_noise(place: Path) -> Asked:
    (place / "backup.zip").write_bytes(b"PK\x03\x04" + bytes(range(256)))
    return ["restore", str(place / "backup.zip"), "--store", f"sqlite:///{place}/new.db"]


@hostile("File name too long")
def a_fleet_of_a_name_too_long(_: Path) -> Asked:
    return ["check", "a" * 300]


@hostile("File name too long")
def a_fleet_of_a_path_too_long(_: Path) -> Asked:
    return ["check", "a/" * 3000]


@hostile("there is no folder or workbook")
def a_fleet_of_no_name_that_can_be(_: Path) -> Asked:
    return ["check", "no\nsuch\x1b[2Jplace"]


@hostile("there is no folder or workbook")
def a_fleet_named_in_bytes_that_are_no_text(_: Path) -> Asked:
    return ["check", os.fsdecode(b"\xff\xfe")]


@hostile("there is no demo plant")
def a_demo_plant_outside_the_demo_plants(_: Path) -> Asked:
    return ["check", "demo:../tests"]


@hostile("is a file of another kind")
def a_device_for_a_fleet(place: Path) -> Asked:
    (place / "fleet.db").write_text(UNITS + UNIT)
    return ["check", str(place / "fleet.db")]


def written_to(place: Path, out: str) -> Asked:
    return ["rank", fleet(place), "--handbook-only", "--as-of", "2024-06-01", "--out", out]


@hostile("File name too long")
def a_ranking_to_a_name_too_long(place: Path) -> Asked:
    return written_to(place, f"{place}/{'r' * 300}.csv")


@hostile("cannot be written")
def a_ranking_into_a_file_as_if_it_were_a_folder(place: Path) -> Asked:
    return written_to(place, f"{place}/units.csv/ranking.csv")


@hostile("cannot be written (Is a directory)")
def a_ranking_to_a_folder(place: Path) -> Asked:
    (place / "ranking.csv").mkdir()
    return written_to(place, f"{place}/ranking.csv")


@hostile("cannot be written (No space left on device)")
def a_ranking_to_a_full_disk(place: Path) -> Asked:
    (place / "ranking.csv").symlink_to("/dev/full")
    return written_to(place, f"{place}/ranking.csv")


@hostile("File name too long")
def rejected_rows_to_a_path_too_long(place: Path) -> Asked:
    bad = fleet(place, UNITS + UNIT + UNIT.replace("U-1", "U-2").replace("80", "wide"))
    return ["check", bad, "--rejected", f"{place}/{'r' * 300}"]


@hostile("File name too long")
def a_template_to_a_path_too_long(place: Path) -> Asked:
    return ["template", f"{place}/{'t' * 300}"]
