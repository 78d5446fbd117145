"""How a plant writes what the contract says: its headings, words, dates and numbers."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import pandas as pd

Cell = str | float | int | bool | date | None
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def as_it_is(text: str) -> Cell:
    return text


@dataclass(frozen=True)
class Own:
    """A column of the plant.

    Attributes
    ----------
    column : str
        What it is in the contract.
    heading : str
        What stands above it.
    tell : callable
        From the contract's text to what is written; a blank stays blank.
    unit : str
        What stands in a row of units below the heading.
    group : str
        What stands above the heading, over several columns.
    """

    column: str
    heading: str
    tell: Callable[[str], Cell] = as_it_is
    unit: str = ""
    group: str = ""


def written(rows: pd.DataFrame, columns: Sequence[Own]) -> list[list[Cell]]:
    """Write the rows in the plant's columns, without a heading."""
    told = [[one.tell(v) if v else None for v in rows[one.column]] for one in columns]
    return [list(row) for row in zip(*told, strict=True)]


def headings(columns: Iterable[Own]) -> list[Cell]:
    return [one.heading for one in columns]


def word(**words: str) -> Callable[[str], Cell]:
    """Write the plant's word for each of the contract's; one that is missing is an error."""
    assert len(set(words.values())) == len(words), "nobody could tell which is meant"
    return lambda text: words[text]


def words(own: Mapping[str, str], mark: str) -> Callable[[str], Cell]:
    """Write several words with a mark between them."""
    assert len(set(own.values())) == len(own), "nobody could tell which is meant"
    assert not any(mark in one for one in own.values())
    return lambda text: mark.join(own[one] for one in text.split(";"))


def number(text: str) -> Cell:
    """Write a number as a spreadsheet keeps it."""
    value = float(text)
    return int(value) if value.is_integer() else value


def comma(text: str) -> Cell:
    """Write a decimal comma."""
    return text.replace(".", ",")


def day(text: str) -> date:
    """Write a date as a spreadsheet keeps it."""
    return date.fromisoformat(text)


def day_first(mark: str, *, zeros: bool = True) -> Callable[[str], Cell]:
    """Write 07.03.2025, or 7/3/2025, with the mark given."""

    def tell(text: str) -> Cell:
        when = day(text)
        if zeros:
            return f"{when.day:02d}{mark}{when.month:02d}{mark}{when.year}"
        return f"{when.day}{mark}{when.month}{mark}{when.year}"

    return tell


def month_first(text: str) -> Cell:
    """Write 3/7/2025 for the seventh of March."""
    when = day(text)
    return f"{when.month}/{when.day}/{when.year}"


def month_by_name(text: str) -> Cell:
    """Write 7-Mar-25."""
    when = day(text)
    return f"{when.day}-{MONTHS[when.month - 1]}-{when.year % 100:02d}"


def day_number(text: str) -> Cell:
    """Write the number that a spreadsheet has for a day: 1 is the first of January 1900."""
    return (day(text) - date(1899, 12, 30)).days
