"""What a maker of messy records hands over: files, what they truly say, what a person answers."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pandas as pd

Tables = Mapping[str, pd.DataFrame]
"""By table of the contract: its rows as text, a blank cell being an empty text."""


@dataclass(frozen=True)
class Source:
    """One file, or what a query finds in a database.

    Attributes
    ----------
    path : Path
        Of the file.
    query : str
        For a database: the query, as somebody of the plant would write it.
    plant : str
        Whose records these are, where there are several plants.
    """

    path: Path
    query: str = ""
    plant: str = ""


@dataclass(frozen=True)
class Month:
    """The records of a plant as they lie there at the end of a month.

    Attributes
    ----------
    as_of : str
        The last day of the month.
    sources : tuple of Source
        All that was found, none sorted out.
    clean : Tables
        What a careful person would have typed from the same records, in the contract's tables.
    """

    as_of: str
    sources: tuple[Source, ...]
    clean: Tables


@dataclass(frozen=True)
class Answer:
    """One thing that only a person can tell.

    Attributes
    ----------
    about : str
        One of ``KINDS``.
    where : str
        File or sheet, as it is named; empty where it holds for all of them.
    subject : str
        Heading, word, file or sheet as it stands in the records.
    says : str
        In the contract's words.
    plainly : str
        How a person would say it.
    """

    about: str
    where: str
    subject: str
    says: str
    plainly: str


KINDS = {
    "dates": "in which order days and months are written: day first, month first",
    "unit": "subject: a heading, or a kind of measure (length, torque, power); says: the unit",
    "column": "subject: a heading; says: a column of the contract, or an action",
    "yes": "subject: a heading of yes and no; says: the column, and the word that yes stands for",
    "word": "subject: a word; says: the contract's word",
    "table": "subject: file or sheet; says: a table of the contract, or none",
    "every row": "subject: a column of the contract that nothing stands for; says: its value",
}
"""What answers are about."""


@dataclass(frozen=True)
class MessyFleet:
    """A plant's own records of two months.

    Attributes
    ----------
    first, second : Month
        The second holds some units and walkdowns more.
    answers : tuple of Answer
        At most ten; asked in the first month only.
    id_as_written : str
        A pattern of the id as the plant writes it, where ids of several plants collide and were
        made unique; empty where ids stay as they are.
    """

    first: Month
    second: Month
    answers: tuple[Answer, ...]
    id_as_written: str = ""
