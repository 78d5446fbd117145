"""Read a fleet, or take a caller's frames, and check it: nothing is guessed, nothing is lost."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import pandas as pd

from scoring.asking.faults_in_words import faulty_records, with_labels
from scoring.asking.frames_as_text import frames_as_text
from scoring.contract import FLEET_TABLES
from scoring.files.headings_file import read_headings_file
from scoring.files.planned_records import plan_or_mapping
from scoring.files.read_fleet import FoundFleet
from scoring.intake import CheckedFleet, check_fleet
from scoring.records import Fleet
from scoring.store.find_fleet import find_fleet

Headings = str | Path | Mapping[str, Mapping[str, str]] | None
"""A file that maps a plant's own headings to ours, or the same by table: own heading to column."""


@dataclass(frozen=True)
class Records:
    """Checked records of a fleet.

    Attributes
    ----------
    checked : CheckedFleet
        What checking found, as the command line and the pages use it.
    notes : tuple of str
        What a person should know: files and headings left alone, tables that are not there.
    assumptions : tuple of str
        What the reading took for granted.

    Examples
    --------
    >>> import scoring
    >>> records = scoring.read("demo:small_quarry")
    >>> len(records.faults), sorted(records.tables)
    (0, ['accepted', 'events', 'rework', 'units', 'walkdowns'])
    """

    checked: CheckedFleet
    notes: tuple[str, ...]
    assumptions: tuple[str, ...]

    @property
    def faults(self) -> pd.DataFrame:
        """Every fault, one row each; the first thousand of each table.

        Columns ``table``, ``source``, ``row`` (as a spreadsheet counts it; of frames
        ``index_label``), ``column`` (the heading as given; empty where the whole row is meant),
        ``value``, ``wrong`` and ``right``.
        """
        return self.checked.faults.copy(deep=False)

    @cached_property
    def tables(self) -> dict[str, pd.DataFrame]:
        """The good rows of each table, in the columns and units of the contract."""
        return {
            table.name: self.checked.fleet.table(table.name)[
                [column.name for column in table.columns]
            ].copy(deep=False)
            for table in FLEET_TABLES
        }

    @property
    def rejected(self) -> dict[str, pd.DataFrame]:
        """The rows that have a fault, by table, as they were given: every cell as text."""
        return {
            name: pd.DataFrame(
                [row + [""] * (len(rows.headings) - len(row)) for row in rows.rows],
                columns=list(rows.headings),
            )
            for name, rows in self.checked.rejected.items()
        }

    def fleet(self, *, keep_good: bool = False) -> Fleet:
        """Return the good rows; refuse where a row has a fault.

        Parameters
        ----------
        keep_good : bool
            Go on without the rows that have a fault.

        Returns
        -------
        Fleet

        Raises
        ------
        FaultyRecordsError
            If there are faults and ``keep_good`` is not set, or a table cannot be used at all.
        """
        checked = self.checked
        if checked.unusable:
            advice = f"the table {' and '.join(checked.unusable)} cannot be used at all"
        elif checked.how_many_faults and not keep_good:
            advice = "mend the rows, or go on without them: keep_good=True"
        elif checked.fleet.units.empty:
            advice = "no unit is left without a fault; mend the rows of units"
        else:
            return checked.fleet
        raise faulty_records(self.faults, checked.how_many_faults, advice)


def read(
    where: str | Path,
    *,
    add: Sequence[str | Path] = (),
    headings: Headings = None,
    plan: str | Path | None = None,
) -> Records:
    """Read and check a fleet.

    Parameters
    ----------
    where : str or Path
        A folder of CSV or Parquet files, an ``.xlsx`` workbook, the address of a store, or
        ``demo:NAME``.
    add : sequence of str or Path
        Further such places, whose rows come below; these need not hold every table.
    headings : str, Path or mapping, optional
        What a plant's own headings stand for.
    plan : str or Path, optional
        A reading plan of files of another shape; by default the ``reading-plan.toml`` that lies
        beside the records, if there is one.

    Returns
    -------
    Records
        Also where rows have faults: they stand in ``faults``.

    Raises
    ------
    UnreadableFleetError
        If nothing is there, a needed table is missing, or a file cannot be read.

    Examples
    --------
    >>> import scoring
    >>> scoring.read("demo:small_quarry").tables["units"]["unit_id"].is_unique
    True
    """
    found, mapping = as_found(where, add=add, headings=headings, plan=plan)
    checked = check_fleet(found.tables, pd.Timestamp.today(), mapping)
    return Records(checked, (*found.notes, *checked.notes), checked.assumptions)


def as_found(
    where: str | Path,
    *,
    add: Sequence[str | Path] = (),
    headings: Headings = None,
    plan: str | Path | None = None,
) -> tuple[FoundFleet, Mapping[str, Mapping[str, str]]]:
    """Read a fleet as ``read`` does, and leave it unchecked.

    Returns
    -------
    FoundFleet
        Its tables as found.
    mapping of str to mapping
        For each table a plant's own headings and the columns they stand for.

    Raises
    ------
    UnreadableFleetError
        If nothing is there, a needed table is missing, or a file cannot be read.

    Examples
    --------
    >>> found, mapping = as_found("demo:small_quarry")
    >>> found.tables["units"].sources, mapping
    (('units.csv',), {})
    """
    if plan is None and isinstance(headings, str | Path):
        plan, mapping = plan_or_mapping(headings)
    else:
        mapping = _mapping(headings) or {}
    found = find_fleet(str(where), tuple(map(str, add)), Path(plan) if plan else None, mapping)
    return found, mapping


def take(  # noqa: PLR0913 - a fleet has these tables
    units: pd.DataFrame,
    walkdowns: pd.DataFrame | None = None,
    *,
    events: pd.DataFrame | None = None,
    rework: pd.DataFrame | None = None,
    accepted: pd.DataFrame | None = None,
    headings: Headings = None,
) -> Records:
    """Take and check a fleet's tables from DataFrames, which stay as they are.

    Parameters
    ----------
    units : DataFrame
        One row a unit. Headings as ``scoring.columns()`` names them; a column in another unit of
        measure by its heading, as ``shaft_diameter_in``. A missing value means *not known*.
    walkdowns, events, rework, accepted : DataFrame, optional
        The other tables; None: nothing was written down.
    headings : str, Path or mapping, optional
        What a plant's own headings stand for.

    Returns
    -------
    Records
        Also where rows have faults: they stand in ``faults``, by the labels of the index.

    Raises
    ------
    FixableError
        If something is no DataFrame, or holds what is no text, number or date.

    Notes
    -----
    Cells become text first and pass the checks that files pass. Read ids as text
    (``pd.read_csv(..., dtype=str)``), for pandas makes the number 12 of the id ``0012``.

    Examples
    --------
    >>> import pandas as pd, scoring
    >>> units = pd.DataFrame({"unit_id": ["A-1", "A-2"], "site": "quarry",
    ...                       "installed_on": "2026-01-31", "mounting": "keyed_bore",
    ...                       "shaft_diameter_in": ["2 15/16", "3,0"]}, index=["x", "y"])
    >>> records = scoring.take(units)
    >>> records.faults[["index_label", "column", "value"]].values.tolist()
    [['y', 'shaft_diameter_in', '3,0']]
    """
    frames = {
        "units": units,
        "walkdowns": walkdowns,
        "events": events,
        "rework": rework,
        "accepted": accepted,
    }
    tables = frames_as_text(frames)
    checked = check_fleet(tables, pd.Timestamp.today(), _mapping(headings))
    labels = {name: frames[name].index.tolist() for name in tables}  # type: ignore[union-attr]
    told = CheckedFleet(**vars(checked) | {"faults": with_labels(checked.faults, labels)})
    return Records(told, checked.notes, checked.assumptions)


def _mapping(headings: Headings) -> Mapping[str, Mapping[str, str]] | None:
    return read_headings_file(Path(headings)) if isinstance(headings, str | Path) else headings
