"""Where records come from that are brought in, in words."""

from collections.abc import Collection, Sequence

from dashboard.presenters.bring_words import as_label, counted
from scoring.files.database_file import ADDRESS_OF_A_FILE, TableThere
from scoring.reading_plan.what_a_plan_says import Query

__all__ = ["address_of", "answered_said", "as_label", "next_name", "tables_offered"]

COLUMNS_SHOWN = 5
QUERY_SHOWN = 80


def address_of(file: str) -> str:
    """Return the address by which a plan names a database that is a file beside it.

    Examples
    --------
    >>> address_of("maintenance.db")
    'sqlite:///maintenance.db'
    """
    return ADDRESS_OF_A_FILE + file


def tables_offered(tables: Sequence[TableThere]) -> dict[str, str]:
    """Return what is said of each table of a database, and its name.

    Examples
    --------
    >>> tables_offered([TableThere("equipment", ("no", "place"))])
    {'equipment (no, place)': 'equipment'}
    """
    offered = {}
    for one in tables:
        more = ", ..." if len(one.columns) > COLUMNS_SHOWN else ""
        offered[f"{one.name} ({', '.join(one.columns[:COLUMNS_SHOWN])}{more})"] = one.name
    return offered


def next_name(there: Collection[str]) -> str:
    """Return a name for the next answer of a database.

    Examples
    --------
    >>> next_name(["query 1", "query 3"])
    'query 2'
    """
    return next(
        name for name in (f"query {n}" for n in range(1, len(there) + 2)) if name not in there
    )


def answered_said(name: str, query: Query, rows: int) -> str:
    """Say what a database was asked, and how much it answered.

    Examples
    --------
    >>> answered_said("query 1", Query("query 1", "", "SELECT no  FROM equipment"), 2)
    'query 1: 2 rows; SELECT no FROM equipment'
    """
    asked = " ".join(query.query.split())
    more = "..." if len(asked) > QUERY_SHOWN else ""
    return f"{name}: {counted(rows, 'row')}; {asked[:QUERY_SHOWN]}{more}"
