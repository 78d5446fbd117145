"""What a reading plan holds."""

from collections.abc import Mapping
from dataclasses import dataclass, field

OPEN, OTHER = "?", "?!"
"""A value that begins so waits for the answer to the question of that key, or for its other one."""

SURE, LIKELY, ASKED = "sure", "likely", "asked"
"""How certain a proposal is."""

NOTHING = "(nothing)"
"""Written for a word that says nothing: not known, not seen."""

ASIDE = "(leave aside)"
"""The choice of a column that is not read."""


@dataclass(frozen=True)
class Question:
    """What cannot be told from the files.

    Attributes
    ----------
    key : str
        Names it.
    asks : str
        The question, in words.
    choices : tuple of str
        The answers there are.
    free : bool
        Whether another text may be the answer.
    answer : str
        As given; empty while it is open.
    """

    key: str
    asks: str
    choices: tuple[str, ...]
    free: bool = False
    answer: str = ""


@dataclass(frozen=True)
class PlannedColumn:
    """What one column of a source stands for.

    Attributes
    ----------
    heading : str
        As found; a repeated one counted, as ``Date (2)``.
    fills : tuple of str
        Columns of ours, as ``units.site``; none: left aside.
    means : str
        Of the date of a failure its mode, of a column about one re-work its action.
    unit : str
        Unit of the values as given; empty: that of the contract, or none.
    dates : str
        In which order dates are written here, where it differs from the table's.
    words : mapping of str to str
        Words as found, and what they stand for.
    because, certainty : str
        Why it is proposed, and how certain that is.
    """

    heading: str
    fills: tuple[str, ...] = ()
    means: str = ""
    unit: str = ""
    dates: str = ""
    words: Mapping[str, str] = field(default_factory=dict)
    because: str = ""
    certainty: str = ""


@dataclass(frozen=True)
class PlannedTable:
    """How the tables of one shape are read.

    Attributes
    ----------
    sources : tuple of str
        Files and sheets it was made from; later ones with the same headings are read by it too.
    feeds : tuple of str
        Our tables that its rows become part of.
    heading_row, heading_rows, units_row : int
        Where the headings begin, over how many rows they stand, and the row of units below them
        (0: none).
    no_record_begins_with : tuple of str
        Rows whose first cell begins so are no records.
    encoding, delimiter, decimal, thousands, dates : str
        How text is written; ``dates`` is ``day month year`` or ``month day year``.
    fixed : mapping of str to str
        Columns of ours that no column says, and what stands in every row.
    columns : tuple of PlannedColumn
        By heading.
    because, certainty : str
        Why its rows feed these tables.
    """

    sources: tuple[str, ...]
    feeds: tuple[str, ...]
    heading_row: int = 1
    heading_rows: int = 1
    units_row: int = 0
    no_record_begins_with: tuple[str, ...] = ()
    encoding: str = ""
    delimiter: str = ""
    decimal: str = ""
    thousands: str = ""
    dates: str = ""
    fixed: Mapping[str, str] = field(default_factory=dict)
    columns: tuple[PlannedColumn, ...] = ()
    because: str = ""
    certainty: str = ""

    def by_heading(self) -> dict[str, PlannedColumn]:
        """Return the columns by their headings."""
        return {column.heading: column for column in self.columns}


@dataclass(frozen=True)
class Query:
    """A question to a database that a plant has.

    Attributes
    ----------
    name : str
        What messages call its answer.
    database : str
        Address, without a password.
    query : str
        SQL that reads.
    password_from : str
        Variable of the environment that holds the password; empty: none is needed.
    """

    name: str
    database: str
    query: str
    password_from: str = ""


@dataclass(frozen=True)
class Plan:
    """A reading plan.

    Attributes
    ----------
    tables : tuple of PlannedTable
        How tables are read.
    questions : tuple of Question
        What was asked, answered or not.
    languages : tuple of str
        Words that no column names are read by the lists of these languages.
    queries : tuple of Query
        Questions to databases.
    """

    tables: tuple[PlannedTable, ...] = ()
    questions: tuple[Question, ...] = ()
    languages: tuple[str, ...] = ()
    queries: tuple[Query, ...] = ()
