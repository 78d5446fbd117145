"""The fields of a record that is entered by hand, from the contract's own declaration."""

from collections.abc import Mapping
from dataclasses import dataclass

from scoring.contract import ACCEPTED, CHECK_BY_NAME, EVENTS, REWORK, Column, Kind, Table
from scoring.contract.events import MODE_WORDS
from scoring.contract.rework import ACTION_BY_NAME
from scoring.contract.where_actions_fit import fits

TITLES = {
    "rework": "Write down re-work",
    "events": "Write down a failure",
    "accepted": "Accept a finding as it is",
}
"""Tables that are entered by hand, and what a person calls it."""

TABLES: dict[str, Table] = {table.name: table for table in (REWORK, EVENTS, ACCEPTED)}

_NOT_ASKED = ("unit_id", "recorded_at")
_TODAY = ("done_on", "occurred_on", "accepted_on")


@dataclass(frozen=True)
class Option:
    """One answer to choose.

    Attributes
    ----------
    value, words : str
        As kept, and for a person.
    help : str
        A line more; may be empty.
    """

    value: str
    words: str
    help: str = ""


@dataclass(frozen=True)
class Field:
    """One field of a record.

    Attributes
    ----------
    name, label : str
        Column of the contract, and what a person calls it.
    shape : str
        date, number, text, long text, one (of the options) or several (of them).
    required : bool
        Whether it must be filled.
    options : tuple of Option
        What can be chosen.
    value : str
        What is in it; several are joined by ``;``.
    fault : str
        What is wrong with it; empty where nothing is.
    right : str
        What is allowed, in words.
    """

    name: str
    label: str
    shape: str
    required: bool
    options: tuple[Option, ...]
    value: str
    fault: str
    right: str

    @property
    def chosen(self) -> tuple[str, ...]:
        """The options that are chosen."""
        return tuple(part.strip() for part in self.value.split(";"))


ACCEPTED_BY = "accepted_by"


@dataclass(frozen=True)
class UnitAtHand:
    """What the fields of a record depend on.

    Attributes
    ----------
    mounting : str
        Of the unit.
    findings : dict of str to str
        Its open findings, by check, in words.
    cured_by : dict of str to str
        Actions that cure one of them, with which.
    events : dict of str to str
        Its failures, by key, in words.
    today : str
        The day.
    person : str
        Who enters it.
    is_signed_in : bool
        Whether that is known by a login, so that no name is asked.
    """

    mounting: str
    findings: Mapping[str, str]
    cured_by: Mapping[str, str]
    events: Mapping[str, str]
    today: str
    person: str
    is_signed_in: bool = False


def fields_of(
    table: Table, unit: UnitAtHand, typed: Mapping[str, str], faults: Mapping[str, str]
) -> list[Field]:
    """Return the fields of a record, filled with what was typed so far.

    Parameters
    ----------
    table : Table
        Its contract.
    unit : UnitAtHand
        What they depend on.
    typed : mapping of str to str
        By column; nothing of it where the record is just begun.
    faults : mapping of str to str
        What is wrong, by column.

    Returns
    -------
    list of Field
    """
    begun = dict.fromkeys(_TODAY, unit.today) | {ACCEPTED_BY: unit.person}
    return [
        Field(
            column.name,
            _label(column),
            _shape(column),
            column.required,
            _options(column, unit),
            typed.get(column.name, "" if typed else begun.get(column.name, "")),
            faults.get(column.name, ""),
            column.allowed_words,
        )
        for column in table.columns
        if column.name not in (*_NOT_ASKED, table.key)
        and not (unit.is_signed_in and column.name == ACCEPTED_BY)
    ]


def _label(column: Column) -> str:
    return column.meaning + (f" [{column.unit}]" if column.unit else "")


def _shape(column: Column) -> str:
    if column.name == "event_id" or column.kind is Kind.CHOICE:
        return "one"
    if column.is_numeric:
        return "number"
    shapes = {Kind.DATE: "date", Kind.SEVERAL: "several"}
    return shapes.get(column.kind, "long text" if column.name in ("notes", "reason") else "text")


def _options(column: Column, unit: UnitAtHand) -> tuple[Option, ...]:
    if column.name == "event_id":
        return (Option("", "none of these"), *(Option(k, w) for k, w in unit.events.items()))
    if column.name == "check":
        return tuple(
            Option(check, CHECK_BY_NAME[check].label, words)
            for check, words in unit.findings.items()
            if check in CHECK_BY_NAME
        )
    if column.name == "actions":
        possible = [name for name in ACTION_BY_NAME if fits(name, unit.mounting)]
        names = sorted(possible, key=lambda name: name not in unit.cured_by)
        return tuple(_action(name, unit) for name in names)
    words = tuple(
        Option(value, MODE_WORDS.get(value, value.replace("_", " "))) for value in column.allowed
    )
    may_be_blank = column.kind is Kind.CHOICE and not column.required
    return (Option("", "not said"), *words) if may_be_blank else words


def _action(name: str, unit: UnitAtHand) -> Option:
    cures = unit.cured_by.get(name)
    return Option(name, ACTION_BY_NAME[name].does, f"cures: {cures}" if cures else "")
