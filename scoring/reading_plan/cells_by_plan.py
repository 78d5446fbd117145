"""Cells of one column, as the contract writes them."""

from collections.abc import Mapping

from scoring.contract import TABLE_BY_NAME, Column, Kind
from scoring.contract.declaration import NO, YES
from scoring.contract.quantities import CONVERSIONS, contract_suffix
from scoring.contract.units import UNITS
from scoring.reading_plan.dates_written import as_iso, looks_like_date
from scoring.reading_plan.numbers_written import number_in_cell, plain_number
from scoring.reading_plan.tidy_text import tidy
from scoring.reading_plan.units_of_measure import Reckoning, reckoning
from scoring.reading_plan.what_a_plan_says import NOTHING, SURE, PlannedColumn, PlannedTable
from scoring.reading_plan.words_meant import Meaning, count_said, meaning_of, parts_of


def column_of(fills: str) -> Column:
    """Return the column of the contract that a plan names.

    Examples
    --------
    >>> column_of("units.site").name
    'site'
    """
    table, _, name = fills.partition(".")
    return TABLE_BY_NAME[table][name]


def texts_by_plan(
    texts: list[str],
    fills: str,
    planned: PlannedColumn,
    table: PlannedTable,
    languages: tuple[str, ...],
) -> tuple[str, list[str]]:
    """Write the distinct texts of a column as the contract does.

    What cannot be read so is left as found, for the checks to tell of it.

    Returns
    -------
    name : str
        The heading of the contract, which may say a unit.
    written : list of str
        One for each text.

    Examples
    --------
    >>> column = PlannedColumn("Welle", ("units.shaft_diameter_mm",), unit="in")
    >>> plan = PlannedTable(("a.csv",), ("units",), decimal=",")
    >>> texts_by_plan(["3,5", "n/a", "?"], "units.shaft_diameter_mm", column, plan, ("english",))
    ('shaft_diameter_in', ['3.5', '', ''])
    """
    column = column_of(fills)
    if column.is_numeric:
        return _numbers(texts, column, planned, table, languages)
    if column.kind is Kind.DATE:
        order = planned.dates or table.dates
        return column.name, [_date(text, order, planned, languages) for text in texts]
    if column.kind is Kind.CHOICE:
        return column.name, [_word(text, column, planned, languages) for text in texts]
    if column.kind is Kind.SEVERAL:
        return column.name, [_several(text, column, planned, languages) for text in texts]
    return column.name, [_nothing(planned.words.get(text, text)) for text in texts]


def unknown_words(
    texts: list[str],
    fills: str,
    planned: PlannedColumn,
    table: PlannedTable,
    languages: tuple[str, ...],
) -> list[str]:
    """Return the words of a column that the plan does not know, each with its heading."""
    allowed = {*column_of(fills).allowed, ""}
    _, written = texts_by_plan(texts, fills, planned, table, languages)
    return [
        f"{text!r} under {planned.heading!r}"
        for text, word in zip(texts, written, strict=True)
        if word not in allowed
    ]


def tells_done(
    text: str, planned: PlannedColumn, table: PlannedTable, languages: tuple[str, ...]
) -> str:
    """Return the day on which a cell says that something was done, *yes*, or an empty text."""
    known = word_for(text, planned.words)
    if known:
        return _nothing(known) if known != NO else ""
    if looks_like_date(text, numbers=True):
        return as_iso(text, planned.dates or table.dates) or text
    said = meaning_of(text, UNITS["backstop"], languages=languages)
    if said.word in (NO, NOTHING):
        return ""
    return YES if said.word == YES else text


def _nothing(word: str) -> str:
    return "" if word == NOTHING else word


def _listed(
    text: str, column: Column, planned: PlannedColumn, languages: tuple[str, ...]
) -> Meaning:
    """Return what the lists say of a word that the plan does not name."""
    if not text or not languages:
        return Meaning()
    return meaning_of(text, column, planned.heading, languages)


def word_for(text: str, words: Mapping[str, str]) -> str | None:
    """Return what a plan says of a word, however it is spelt; None if it says nothing of it.

    Examples
    --------
    >>> word_for("LOOSE ", {"Loose": "loose"}), word_for("tight", {"Loose": "loose"})
    ('loose', None)
    """
    if not text or not words:
        return None
    found = words.get(text)
    if found is None:
        plain = tidy(text)
        found = next((word for said, word in words.items() if tidy(said) == plain), None)
    return found


def _says_nothing(
    text: str, column: Column, planned: PlannedColumn, languages: tuple[str, ...]
) -> bool:
    known = word_for(text, planned.words)
    if known is not None:
        return known == NOTHING
    return _listed(text, column, planned, languages).word == NOTHING


def _word(text: str, column: Column, planned: PlannedColumn, languages: tuple[str, ...]) -> str:
    known = word_for(text, planned.words)
    if known is not None:
        return _nothing(known)
    if not text or text in column.allowed:
        return text
    said = _listed(text, column, planned, languages)
    return (
        _nothing(said.word)
        if said.word and (said.certainty == SURE or said.word == NOTHING)
        else text
    )


def _several(text: str, column: Column, planned: PlannedColumn, languages: tuple[str, ...]) -> str:
    known = word_for(text, planned.words)
    if known is not None:
        return _nothing(known)
    words = [_word(part, column, planned, languages) for part in parts_of(text)]
    return ";".join(dict.fromkeys(word for word in words if word))


def _date(text: str, order: str, planned: PlannedColumn, languages: tuple[str, ...]) -> str:
    if not text:
        return ""
    known = word_for(text, planned.words)
    if known is not None:
        return _nothing(known)
    iso = as_iso(text, order)
    if iso is not None:
        return iso
    return "" if _says_nothing(text, UNITS["installed_on"], planned, languages) else text


def _numbers(
    texts: list[str],
    column: Column,
    planned: PlannedColumn,
    table: PlannedTable,
    languages: tuple[str, ...],
) -> tuple[str, list[str]]:
    known = [_nothing(planned.words.get(text, text)) for text in texts]
    split = [number_in_cell(text, column.name, table.decimal, table.thousands) for text in known]
    beside = any(unit for _, unit in split)
    how = reckoning(column.name, planned.unit)
    if how is None:
        how = Reckoning(column.name)
    name = column.name if beside else how.name
    written = []
    for text, (number, unit) in zip(known, split, strict=True):
        plain = plain_number(number, table.decimal, table.thousands) if number else ""
        if plain is None and not table.delimiter:  # a number of a workbook has a point
            plain = plain_number(number, "", "")
        if plain is None:
            blank = _says_nothing(text, column, planned, languages)
            said = count_said(text, languages) if column.kind is Kind.COUNT else ""
            written.append("" if blank else said or text)
        elif not plain:
            written.append("")
        elif beside:
            written.append(_in_contract_unit(plain, column.name, unit or planned.unit))
        elif how.factor != 1.0 or how.offset:
            written.append(_reckoned(plain, how.factor, how.offset))
        else:
            written.append(plain)
    return name, written


def _in_contract_unit(plain: str, column: str, unit: str) -> str:
    how = reckoning(column, unit) or Reckoning(column)
    if how.name == column:
        return (
            plain
            if how.factor == 1.0 and not how.offset
            else _reckoned(plain, how.factor, how.offset)
        )
    suffix = contract_suffix(column)
    conversion = next(c for c in CONVERSIONS[suffix] if how.name.endswith(c.suffix))
    return _reckoned(plain, conversion.factor, conversion.offset)


def _reckoned(plain: str, factor: float, offset: float) -> str:
    whole, _, rest = plain.replace("-", " ").rpartition(" ") if "/" in plain else ("", "", plain)
    value = float(whole or 0)
    over, _, under = rest.partition("/")
    value += float(over) / float(under or 1)
    return f"{(value - offset) * factor:.12g}"
