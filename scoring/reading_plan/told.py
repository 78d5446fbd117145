"""What a person told of a plan: answers by key, and corrections of what was proposed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from scoring.contract import TABLE_BY_NAME
from scoring.contract.events import FAILURE_MODES
from scoring.contract.rework import ACTION_BY_NAME
from scoring.errors import FixableError
from scoring.reading_plan.grid import Grid
from scoring.reading_plan.what_a_plan_says import ASIDE

COLUMN, UNIT, FEEDS, EXACT = "column.", "unit.", "feeds.", 100.0
"""How keys begin that correct a proposal."""


@dataclass(frozen=True)
class Told:
    """What a person told.

    Attributes
    ----------
    given : mapping of str to str
        By key.
    """

    given: Mapping[str, str] = field(default_factory=dict)

    def column(self, heading: str, fed: Iterable[str]) -> tuple[tuple[str, ...], str] | None:
        """Return what a heading fills, and what it tells of; None: nothing was told.

        Raises
        ------
        FixableError
            If there is no such column, action or failure.

        Examples
        --------
        >>> Told({"column.By": "inspector"}).column("By", ["walkdowns"])
        (('walkdowns.inspector',), '')
        >>> Told({"column.Oil": "correct_oil_level"}).column("Oil", ["walkdowns"])
        (('rework.actions',), 'correct_oil_level')
        """
        below = COLUMN + heading.rpartition(" / ")[2]
        said = self.given.get(COLUMN + heading, self.given.get(below))
        return None if said is None else what_is_meant(said, tuple(fed))

    def unit(self, heading: str) -> str:
        """Return the unit of a heading, or an empty text."""
        return self.given.get(UNIT + heading, "")

    def feeds(self, grid: Grid) -> tuple[str, ...] | None:
        """Return the tables that a grid feeds; None: nothing was told."""
        for name in (grid.name, grid.sheet, grid.file, grid.stem):
            said = self.given.get(FEEDS + name) if name else None
            if said is not None:
                names = tuple(one.strip() for one in said.replace(" and ", ",").split(","))
                known = tuple(one for one in names if one in TABLE_BY_NAME)
                if not known and said not in ("none", ASIDE):
                    raise FixableError(
                        f"{FEEDS}{name}: {said!r} is no table; one of {', '.join(TABLE_BY_NAME)}, "
                        "or none"
                    )
                return known
        return None


def what_is_meant(said: str, fed: tuple[str, ...]) -> tuple[tuple[str, ...], str] | None:
    """Return what a text of a person names: columns of ours, and a failure or an action.

    The same heading may stand in a sheet that feeds another table: there it is none of these.
    A failure or re-work may be told in any sheet.

    Returns
    -------
    tuple or None
        None where what is named is of no table that is fed.

    Raises
    ------
    FixableError
        If it names nothing of ours.
    """
    if said in (ASIDE, "", "none"):
        return (), ""
    if said in ACTION_BY_NAME:
        return ("rework.actions",), said
    if said in FAILURE_MODES:
        return ("events.occurred_on",), said
    fills: list[str] = []
    for one in said.split(" and "):
        table, _, name = one.strip().rpartition(".")
        tables = (table,) if table else (*fed, *(t for t in TABLE_BY_NAME if t not in fed))
        owners = [
            t for t in tables if t in TABLE_BY_NAME and name in TABLE_BY_NAME[t].column_by_name
        ]
        if not owners:
            raise FixableError(
                f"{one!r} is no column of ours, no action and no failure; mount-risk columns lists "
                "them"
            )
        fills += (
            [f"{t}.{name}" for t in owners if t in fed]
            if name == "unit_id" and not table
            else [f"{owners[0]}.{name}"]
        )
    elsewhere = [f for f in fills if fed and f.partition(".")[0] not in {*fed, "events", "rework"}]
    return None if elsewhere else (tuple(fills), "")
