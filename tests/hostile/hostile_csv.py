"""Hostile CSV files: of another kind, damaged, far too large, with ids that look alike."""

from pathlib import Path

from collection import (
    NO_FAULT,
    UNIT,
    UNITS,
    WALKDOWN,
    WALKDOWNS,
    Asked,
    check,
    fleet,
    hostile,
    with_id,
)

MILLION = 1_000_000


@hostile("units.csv is empty")
def a_csv_of_no_bytes(place: Path) -> Asked:
    return check(place, b"")


@hostile("units.csv is empty")
def a_csv_of_empty_lines(place: Path) -> Asked:
    return check(place, "\n\r\n  \n")


@hostile("units.csv is empty")
def a_csv_of_a_byte_order_mark(place: Path) -> Asked:
    return check(place, b"\xef\xbb\xbf")


@hostile(NO_FAULT)
def a_byte_order_mark_twice(place: Path) -> Asked:
    return check(place, b"\xef\xbb\xbf" * 2 + (UNITS + UNIT).encode())


@hostile("is written in UTF-16")
def a_csv_in_utf_16(place: Path) -> Asked:
    return check(place, (UNITS + UNIT).encode("utf-16"))


@hostile("line 2: byte e9 is not UTF-8")
def a_csv_in_latin_1(place: Path) -> Asked:
    return check(place, (UNITS + UNIT.replace("pit", "Montr\xe9al")).encode("latin-1"))


@hostile("line 2: holds a NUL byte")
def a_nul_byte(place: Path) -> Asked:
    return check(place, UNITS + UNIT.replace("pit", "p\0t"))


@hostile("is not UTF-8")
def a_picture_named_csv(place: Path) -> Asked:
    return check(place, b"\x89PNG\r\n\x1a\n" + bytes(range(1, 256)) * 10)


@hostile("is named as CSV but is a workbook or another packed file")
def a_packed_file_named_csv(place: Path) -> Asked:
    return check(place, b"PK\x03\x04" + b"0" * 100)


@hostile("is named as CSV but is a Parquet file")
def a_parquet_file_named_csv(place: Path) -> Asked:
    return check(place, b"PAR1" + b"0" * 100)


@hostile("has semicolons between its cells")
def semicolons(place: Path) -> Asked:
    return check(place, (UNITS + UNIT).replace(",", ";"))


@hostile("begins with 'sep=,'")
def a_line_for_a_spreadsheet(place: Path) -> Asked:
    return check(place, "sep=,\n" + UNITS + UNIT)


@hostile("a quoted cell is not closed")
def a_quote_left_open(place: Path) -> Asked:
    return check(place, UNITS + '"' + UNIT)


@hostile(NO_FAULT)
def lone_returns_for_ends_of_lines(place: Path) -> Asked:
    return check(place, (UNITS + UNIT).replace("\n", "\r"))


@hostile("column unit_id: 'unit_id' stands 2 times among the headings")
def a_heading_twice(place: Path) -> Asked:
    return check(place, UNITS.replace("site", "unit_id") + UNIT)


@hostile("column unit_id: this column is missing")
def the_key_not_mapped_and_rows_that_differ(place: Path) -> Asked:
    return check(place, UNITS.replace("unit_id", "machine") + UNIT + UNIT.replace("80", "90"))


@hostile("looks like unit_id and is not: it has ZERO WIDTH SPACE (U+200B)")
def a_heading_with_what_nobody_sees(place: Path) -> Asked:
    return check(place, "unit\u200b" + UNITS.removeprefix("unit") + UNIT)


@hostile("looks like site and is not: it has CYRILLIC SMALL LETTER DZE (U+0455)")
def a_heading_in_another_alphabet(place: Path) -> Asked:
    return check(place, UNITS.replace("site", "\u0455ite") + UNIT)


@hostile("ZERO WIDTH SPACE (U+200B), and so is another id than 'U-1'")
def an_id_with_a_zero_width_space(place: Path) -> Asked:
    return check(place, with_id("U\u200b-1"))


@hostile("RIGHT-TO-LEFT OVERRIDE (U+202E), and so is another id than 'U-1'")
def an_id_that_turns_its_direction(place: Path) -> Asked:
    return check(place, with_id("\u202eU-1"))


@hostile("a control character (U+001B), and so is another id than 'U[2J-1'")
def an_id_that_steers_the_terminal(place: Path) -> Asked:
    return check(place, with_id("U\x1b[2J-1"))


@hostile("SOFT HYPHEN (U+00AD), and so is another id than 'U-1'")
def an_id_with_a_soft_hyphen(place: Path) -> Asked:
    return check(place, with_id("U-\u00ad1"))


@hostile("looks the same as 'P-1' in row 2 of units.csv and is another id: it has CYRILLIC")
def an_id_in_another_alphabet(place: Path) -> Asked:
    latin = UNIT.replace("U-1", "P-1")
    return check(place, UNITS + latin + latin.replace("P", "\u0420"), WALKDOWNS)


@hostile("looks the same as 'U-1' in row 2 of units.csv and is another id: it has EN DASH")
def an_id_with_another_dash(place: Path) -> Asked:
    return check(place, with_id("U\u20131"))


@hostile("and is another id: it has FULLWIDTH LATIN CAPITAL LETTER U")
def an_id_in_wide_letters(place: Path) -> Asked:
    return check(place, with_id("\uff35-1"))


@hostile("looks the same as 'U-1' in units and is another id: it has EN DASH")
def a_walkdown_of_an_id_that_looks_alike(place: Path) -> Asked:
    return check(place, walkdowns=WALKDOWNS + WALKDOWN.replace("U-1", "U\u20131"))


@hostile("is too long: it has 1000000 characters")
def an_id_of_a_million_letters(place: Path) -> Asked:
    return check(place, with_id("U" * MILLION))


def shaft(place: Path, words: str) -> Asked:
    return check(place, UNITS + UNIT.replace("80", words))


@hostile("mm is outside what is allowed; right is a number from 5 to 2000 mm")
def a_shaft_of_1e308_mm(place: Path) -> Asked:
    return shaft(place, "1e308")


@hostile("mm is outside what is allowed; right is a number from 5 to 2000 mm")
def a_shaft_of_1e_minus_320_mm(place: Path) -> Asked:
    return shaft(place, "1e-320")


@hostile("is too large for a number")
def a_shaft_of_1e999_mm(place: Path) -> Asked:
    return shaft(place, "1e999")


@hostile("is not a number")
def a_shaft_of_infinity(place: Path) -> Asked:
    return shaft(place, "inf")


@hostile("is not a number")
def a_shaft_in_arabic_digits(place: Path) -> Asked:
    return shaft(place, "\u0668\u0660")


@hostile("is a date before 1900 or after 2199")
def a_day_in_the_year_9999(place: Path) -> Asked:
    return check(place, UNITS + UNIT.replace("2024", "9999"))


@hostile("is not a day of the calendar")
def a_day_that_is_not(place: Path) -> Asked:
    return check(place, UNITS + UNIT.replace("01-10", "02-30T25:61"))


@hostile("has 5005 columns, where at most 2000 are read")
def five_thousand_columns(place: Path) -> Asked:
    more = "".join(f",c{n}" for n in range(5000))
    return check(place, UNITS.strip() + more + "\n" + UNIT.strip() + "," * 5000 + "\n")


@hostile("is not a unit of this fleet")
def a_unit_id_of_a_formula(place: Path) -> Asked:
    return check(place, walkdowns=WALKDOWNS + WALKDOWN.replace("U-1", "=cmd|' /C calc'!A0"))


@hostile(NO_FAULT)
def a_note_of_twenty_megabytes(place: Path) -> Asked:
    note = WALKDOWN.strip() + "," + "x" * (20 * MILLION) + "\n"
    return check(place, walkdowns=WALKDOWNS.strip() + ",notes\n" + note)


@hostile("of its first 1001 rows 1001 have more or fewer cells than there are headings")
def two_thousand_rows_of_odd_length(place: Path) -> Asked:
    return check(place, UNITS + "junk,junk\n" * 2000)


@hostile("and 2000 more; a thousand of each table are told")
def three_thousand_faults(place: Path) -> Asked:
    rows = "".join(UNIT.replace("U-1", f"U-{n}").replace("80", "wide") for n in range(3000))
    return check(place, UNITS + UNIT + rows)


@hostile("no row of units is without a fault, so there is nothing to go on")
def no_unit_left_to_go_on_with(place: Path) -> Asked:
    where = fleet(place, UNITS + UNIT.replace("80", "wide"))
    return ["rank", where, "--keep-good", "--rejected", str(place / "rejected")]


@hostile("has no table units")
def a_folder_named_as_a_table(place: Path) -> Asked:
    asked = check(place)
    (place / "units.csv").unlink()
    (place / "units.csv").mkdir()
    return asked


@hostile("has no table units")
def a_link_that_leads_nowhere(place: Path) -> Asked:
    asked = check(place)
    (place / "units.csv").unlink()
    (place / "units.csv").symlink_to(place / "gone.csv")
    return asked


@hostile("has no table units")
def a_link_to_a_device_without_end(place: Path) -> Asked:
    asked = check(place)
    (place / "units.csv").unlink()
    (place / "units.csv").symlink_to("/dev/zero")
    return asked


def many(place: Path, head: str, row: str, count: int = 5 * MILLION) -> None:
    """Write walkdowns in which each ``{n}`` is the number of its row, many at once."""
    with (place / "walkdowns.csv").open("w", encoding="utf-8") as file:
        file.write(head)
        for start in range(0, count, 100_000):
            file.write("".join(row.format(n=n) for n in range(start, start + 100_000)))


@hostile("have more or fewer cells than there are headings, so the rest was not read", heavy=True)
def five_million_rows_of_odd_length(place: Path) -> Asked:
    asked = check(place)
    many(place, WALKDOWNS, "junk {n},junk\n")
    return asked


@hostile("are faulty, so the rest was not read", heavy=True)
def five_million_rows_of_junk(place: Path) -> Asked:
    asked = check(place)
    many(place, WALKDOWNS, "W-{n},junk {n},yesterday,often\n")
    return asked


@hostile("are faulty, so the rest was not read", heavy=True)
def good_rows_and_five_million_of_junk_below(place: Path) -> Asked:
    asked = check(place)
    good = "".join(f"G-{n},U-1,2024-02-01,periodic\n" for n in range(100_000))
    many(place, WALKDOWNS + good, "W-{n},U-1,{n},often\n")
    return asked


@hostile("is not a unit of this fleet", heavy=True)
def five_million_walkdowns_of_no_unit(place: Path) -> Asked:
    asked = check(place)
    many(place, WALKDOWNS, "W-{n},X-{n},2024-02-01,periodic\n")
    return asked


@hostile("are faulty, so the rest was not read", heavy=True)
def five_million_rows_of_one_key(place: Path) -> Asked:
    asked = check(place)
    head = WALKDOWNS.strip() + ",notes\n"
    many(place, head, "W-1,U-1,2024-02-01,periodic,{n}\n")
    return asked


@hostile("this column is missing", heavy=True)
def five_million_rows_under_strange_headings(place: Path) -> Asked:
    asked = check(place)
    many(place, "a,b,c,d\n", "W-{n},U-1,2024-02-01,periodic\n")
    return asked


@hostile("the first line, which must hold the headings, does not end within 2 MB", heavy=True)
def one_line_of_three_hundred_megabytes(place: Path) -> Asked:
    asked = check(place)
    (place / "walkdowns.csv").write_bytes(WALKDOWNS.strip().encode() + b"x" * (300 * MILLION))
    return asked


@hostile("a quoted cell is not closed", heavy=True)
def a_hundred_megabytes_of_quotes(place: Path) -> Asked:
    return check(place, walkdowns=WALKDOWNS.encode() + b'"' * (100 * MILLION + 1))


@hostile("millions of empty lines between its rows", heavy=True)
def fifty_million_empty_lines_between_two_rows(place: Path) -> Asked:
    data = WALKDOWNS.encode() + b"\n" * (50 * MILLION) + WALKDOWN.encode()
    return check(place, walkdowns=data)


@hostile(NO_FAULT, heavy=True)
def fifty_million_pairs_of_quotes(place: Path) -> Asked:
    head, row = WALKDOWNS.strip() + ",notes\n", WALKDOWN.strip() + ","
    return check(place, walkdowns=(head + row).encode() + b'"' * (100 * MILLION) + b"\n")


@hostile(NO_FAULT, heavy=True)
def a_hundred_million_empty_lines(place: Path) -> Asked:
    data = (WALKDOWNS + WALKDOWN).encode() + b"\n" * (100 * MILLION)
    return check(place, walkdowns=data)
