"""Shutdowns: which are open for which unit's work."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.windows import WINDOWS
from scoring.errors import FixableError
from scoring.intake import RawTable
from scoring.intake.faults import Faults
from scoring.intake.read_table import read_table
from scoring.records import TEXT, empty_table
from scoring.what_if.site_efforts import stop_at_faults

Flags = NDArray[np.bool_]

MOST_WINDOWS = 200
"""More are refused: their plan would take too long. Ours."""

NOT_OPEN, TOO_FEW_PEOPLE, NO_CRANE, PARTS_TOO_LATE, TOO_LONG = (
    "no window is open for its site",
    "it needs more people than any window has",
    "it needs a crane",
    "its parts come too late",
    "it takes more hours than any window has",
)


@dataclass(frozen=True)
class Shutdowns:
    """Shutdowns in which re-work can be done.

    Attributes
    ----------
    table : DataFrame, shape (n_windows, ...)
        The table ``windows`` of the contract, in the order of their beginning.
    as_of : Timestamp
        The day from which parts take their time to come.
    """

    table: pd.DataFrame
    as_of: pd.Timestamp

    def __len__(self) -> int:
        """Return the number of windows."""
        return len(self.table)

    @property
    def hours(self) -> NDArray[np.float64]:
        """Hours of one person [h] that each window has."""
        hours: NDArray[np.float64] = self.table["crew_hours"].to_numpy(dtype=np.float64)
        return hours

    def fits(self, bundles: pd.DataFrame) -> tuple[Flags, NDArray[np.object_]]:
        """Tell which work fits into which window by itself, and why other work fits into none.

        Parameters
        ----------
        bundles : DataFrame, shape (n_bundles, ...)
            With ``site``, ``hours``, ``people``, ``crane``, ``lead_days``.

        Returns
        -------
        tuple of ndarray
            Flags, shape (n_bundles, n_windows); and words, empty where it fits somewhere.
        """
        table = self.table
        people = table["people"].fillna(np.inf).to_numpy(dtype=np.float64)
        has_crane = (table["crane"].astype(object) != "no").to_numpy(dtype=bool)
        days = (table["starts_on"] - self.as_of).dt.days.fillna(np.inf).to_numpy(dtype=np.float64)

        def column(name: str) -> NDArray[np.float64]:
            values: NDArray[np.float64] = bundles[name].to_numpy(dtype=np.float64)[:, np.newaxis]
            return values

        tests = (
            (NOT_OPEN, self._open_at(bundles["site"])),
            (TOO_FEW_PEOPLE, column("people") <= people),
            (NO_CRANE, (column("crane") == 0) | has_crane),
            (PARTS_TOO_LATE, column("lead_days") <= days),
            (TOO_LONG, column("hours") <= self.hours + 1e-9),
        )
        left = np.ones((len(bundles), len(self)), dtype=bool)
        why = np.full(len(bundles), "", dtype=object)
        for words, passed in tests:
            left = left & passed
            why[(why == "") & ~left.any(axis=1)] = words
        return left, why

    def _open_at(self, site: "pd.Series[str]") -> Flags:
        code, sites = pd.factorize(site)
        names = [split_sites(text) for text in self.table["sites"]]
        flags = np.array([[not own or one in own for own in names] for one in sites], dtype=bool)
        return flags.reshape(len(sites), len(self))[code]


def split_sites(text: object) -> tuple[str, ...]:
    """Return the sites a window is open for; none where it is open for all.

    Examples
    --------
    >>> split_sites("Upper pit; Rail shed"), split_sites(float("nan"))
    (('Upper pit', 'Rail shed'), ())
    """
    if not isinstance(text, str):
        return ()
    return tuple(part.strip() for part in text.split(";") if part.strip())


def one_shutdown(
    as_of: pd.Timestamp,
    crew_hours: float,
    *,
    site: str | None = None,
    people: int | None = None,
    starts_on: pd.Timestamp | None = None,
) -> Shutdowns:
    """Return a single shutdown.

    Parameters
    ----------
    as_of : Timestamp
        The day from which parts take their time to come.
    crew_hours : float
        Hours that all its people have together. [h]
    site : str, optional
        The site it is open for; by default all.
    people : int, optional
        People there at once; by default as many as any job needs.
    starts_on : Timestamp, optional
        When it begins; by default parts are taken to be there in time.

    Returns
    -------
    Shutdowns

    Examples
    --------
    >>> one_shutdown(pd.Timestamp("2026-06-30"), 24, people=4).table["crew_hours"].tolist()
    [24.0]
    """
    row: dict[str, object] = {"window": "shutdown", "sites": site, "starts_on": starts_on}
    return Shutdowns(table_of_windows([row | {"crew_hours": crew_hours, "people": people}]), as_of)


def table_of_windows(rows: list[dict[str, object]]) -> pd.DataFrame:
    """Return the table ``windows`` with some rows; what a row does not name is blank."""
    blank = empty_table(WINDOWS).drop(columns=["row", "starts_on_timed"])
    frame = pd.DataFrame(rows, columns=blank.columns)
    kinds = {name: blank[name].dtype for name in blank.columns}
    return frame.astype({**kinds, "window": TEXT, "sites": TEXT})


def read_windows(raw: RawTable, sites: "pd.Series[str]", as_of: pd.Timestamp) -> Shutdowns:
    """Check a table of shutdowns.

    Parameters
    ----------
    raw : RawTable
        The table ``windows`` as found.
    sites : Series of str
        Sites of the fleet.
    as_of : Timestamp
        The day from which parts take their time to come.

    Returns
    -------
    Shutdowns

    Raises
    ------
    FaultyRecordsError
        If cells are wrong; every fault is named by its row and column.
    FixableError
        If there is no window, or there are too many.
    """
    faults = Faults(WINDOWS.name, raw.sources)
    frame = read_table(raw, WINDOWS, {}, faults).frame
    there, known = set(sites.unique()), ", ".join(sorted(map(str, sites.unique())))
    for row, text in zip(frame["row"], frame["sites"], strict=True):
        for name in split_sites(text):
            if name not in there:
                faults.add_one(row, "sites", name, "is no site of the fleet", f"one of {known}")
    twice = frame["window"].notna() & frame["window"].duplicated()
    for row, name in zip(frame["row"][twice], frame["window"][twice], strict=True):
        faults.add_one(row, "window", name, "stands twice", "another name for each window")
    past = frame["starts_on"].dt.normalize() < as_of
    for row, day in zip(frame["row"][past], frame["starts_on"][past], strict=True):
        wrong = f"is before {as_of.date()}, the day of what is known"
        faults.add_one(row, "starts_on", str(day.date()), wrong, "that day or a later one")
    stop_at_faults(faults)
    if not 1 <= len(frame) <= MOST_WINDOWS:
        raise FixableError(f"{raw.sources[0]} holds {len(frame)} windows; give 1 to {MOST_WINDOWS}")
    order = ["starts_on", "window"]
    return Shutdowns(frame.sort_values(order, kind="stable").reset_index(drop=True), as_of)
