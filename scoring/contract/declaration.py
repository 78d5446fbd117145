"""What a column and a table are, and by which words a check is described."""

from dataclasses import dataclass, field
from enum import Enum, StrEnum

NO, YES = "no", "yes"
YES_NO = (NO, YES)
"""The words of a choice that is one or the other."""


class Kind(StrEnum):
    """What a cell holds."""

    IDENTIFIER = "identifier"
    TEXT = "text"
    DATE = "date"
    NUMBER = "number"
    COUNT = "whole number"
    CHOICE = "one of a list"
    SEVERAL = "one or more of a list, ; between them"


class Worse(Enum):
    """Which way a check gets worse."""

    LATER_IN_LIST = "the later in the list, the worse"
    BY_MOUNTING = "which is wrong depends on the mounting"
    MORE = "more is worse"
    LESS = "less is worse"
    OUTSIDE_RANGE = "outside its range, either way, is worse"
    AWAY_FROM_SPECIFIED = "away from the specified value, either way, is worse"


class Seen(StrEnum):
    """In which state of the machine a check can be seen."""

    HANGING = "H"
    STOPPED = "S"
    RUNNING = "R"

    @property
    def words(self) -> str:
        """The state in plain words."""
        return {
            Seen.HANGING: "only while the unit is being hung",
            Seen.STOPPED: "with the machine stopped",
            Seen.RUNNING: "with the machine running",
        }[self]


class About(StrEnum):
    """What a check is about, which decides what hanging the unit anew makes of an earlier look."""

    JOINT = "joint"
    SHAFT = "shaft"
    ARM = "arm"
    HOUSING = "housing"


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column of a table.

    Attributes
    ----------
    name : str
        The heading; a quantity ends in the suffix of its unit.
    kind : Kind
        What a cell holds.
    meaning : str
        One line for a person.
    unit : str
        Unit for display; empty for words and counts.
    required : bool
        Whether every row must fill it.
    allowed : tuple of str
        The words a choice may take; for a check the worst comes last.
    minimum, maximum : float or None
        Closed limits of a number, in ``unit``. Every number of a fleet has both: where nothing else
        limits it they are planning values of ours, so wide that only a slip lies beyond.
    above : float or None
        Open lower limit of a number, in ``unit``.
    may_lie_ahead : bool
        Whether a date may lie in the future.
    """

    name: str
    kind: Kind
    meaning: str
    unit: str = ""
    required: bool = False
    allowed: tuple[str, ...] = ()
    minimum: float | None = None
    maximum: float | None = None
    above: float | None = None
    may_lie_ahead: bool = False

    @property
    def is_numeric(self) -> bool:
        """Whether a cell holds a number."""
        return self.kind in (Kind.NUMBER, Kind.COUNT)

    @property
    def allowed_words(self) -> str:
        """What is allowed, in words and with its unit.

        Examples
        --------
        >>> Column(name="peak_factor", kind=Kind.NUMBER, meaning="", minimum=1).allowed_words
        'a number of at least 1'
        """
        if self.kind is Kind.CHOICE:
            return "one of " + ", ".join(self.allowed)
        if self.kind is Kind.SEVERAL:
            return "one or more of " + ", ".join(self.allowed) + " with ; between them"
        if self.kind is Kind.DATE:
            return "a date as 2026-03-31, or with a time as 2026-03-31T14:30"
        if self.kind is Kind.IDENTIFIER:
            return "text of 1 to 64 characters"
        if self.kind is Kind.TEXT:
            return "text"
        return self._number_words()

    def _number_words(self) -> str:
        what = "a whole number" if self.kind is Kind.COUNT else "a number"
        unit = f" {self.unit}" if self.unit else ""
        if self.above is not None and self.maximum is not None:
            return f"{what} above {self.above:.15g} and at most {self.maximum:.15g}{unit}"
        if self.minimum is not None and self.maximum is not None:
            return f"{what} from {self.minimum:.15g} to {self.maximum:.15g}{unit}"
        if self.above is not None:
            return f"{what} above {self.above:.15g}{unit}"
        if self.minimum is not None:
            return f"{what} of at least {self.minimum:.15g}{unit}"
        return what + (f" in{unit}" if unit else "")


@dataclass(frozen=True)
class Table:
    """One table of records.

    Attributes
    ----------
    name : str
        Name of the file or sheet.
    row_is : str
        What one row stands for.
    key : str
        The column that names a row; empty where the whole row is the key.
    columns : tuple of Column
        Its columns, in the order in which people fill them in.
    needed : bool
        Whether a fleet must have this table.
    """

    name: str
    row_is: str
    key: str
    columns: tuple[Column, ...]
    needed: bool = False
    column_by_name: dict[str, Column] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Index the columns by name."""
        object.__setattr__(self, "column_by_name", {c.name: c for c in self.columns})

    def __getitem__(self, name: str) -> Column:
        """Return the column of that name."""
        return self.column_by_name[name]

    @property
    def required(self) -> tuple[str, ...]:
        """Names of the columns that every row must fill."""
        return tuple(c.name for c in self.columns if c.required)
