"""What the command line told the pages to show."""

import os
import threading
from collections.abc import Mapping
from typing import TYPE_CHECKING

import pandas as pd

from scoring.asking.checked_records import as_found, read
from scoring.errors import FixableError
from scoring.files.read_fleet import FoundFleet
from scoring.intake import CheckedFleet
from scoring.store.store_or_files import is_store_address

if TYPE_CHECKING:
    from scoring.store.changed_units import ChangedUnits
    from scoring.store.open_store import Store

FLEET = "MOUNT_RISK_FLEET"
AS_OF = "MOUNT_RISK_AS_OF"
ADD = "MOUNT_RISK_ADD"
HEADINGS = "MOUNT_RISK_HEADINGS"
KEEP_GOOD = "MOUNT_RISK_KEEP_GOOD"
LOGIN = "MOUNT_RISK_LOGIN"
ANYBODY = "MOUNT_RISK_ANYBODY"
ASK_DATABASES = "MOUNT_RISK_ASK_DATABASES"
"""Environment variables by which the command line tells the pages what to show."""

HORIZON_DAYS = 365
"""So far ahead the pages look where nobody has chosen. [d]"""

_STORES: dict[str, "Store"] = {}
_OPENING = threading.Lock()


class NothingToShowError(FixableError):
    """No fleet was named, or its records are faulty: some have to be brought in, or put right."""


def is_named() -> bool:
    """Tell whether the command line named a fleet."""
    return bool(os.environ.get(FLEET, ""))


def may_ask_databases() -> bool:
    """Tell whether the command line lets people ask databases by their address."""
    return bool(os.environ.get(ASK_DATABASES, ""))


def has_login() -> bool:
    """Tell whether people have to sign in."""
    return bool(os.environ.get(LOGIN, ""))


def answers_to_a_network() -> bool:
    """Tell whether others than this machine are answered without a login."""
    return bool(os.environ.get(ANYBODY, ""))


def fleet_name() -> str:
    """Return the fleet that the command line named.

    Raises
    ------
    NothingToShowError
        If none was named.
    """
    where = os.environ.get(FLEET, "")
    if not where:
        raise NothingToShowError(
            "no fleet was named; start these pages with: mount-risk dashboard FLEET"
        )
    return where


def day_spoken_of() -> pd.Timestamp:
    """Return the day that the pages speak of; today, unless the command line named another."""
    given = os.environ.get(AS_OF, "")
    return pd.Timestamp(given) if given else pd.Timestamp.today().normalize()


def store() -> "Store | None":
    """Return the store behind the pages, none where they show files, or nothing yet."""
    where = os.environ.get(FLEET, "")
    if not is_store_address(where):
        return None
    from scoring.store.open_store import open_store  # noqa: PLC0415 - half a second; files need none

    with _OPENING:
        if where not in _STORES:
            _STORES[where] = open_store(where)
        return _STORES[where]


def records_mark() -> int:
    """Return a number that is another one after every change of the records."""
    kept = store()
    if kept is None:
        return 0
    from scoring.store.read_records import last_change  # noqa: PLC0415 - as above

    with kept.reading() as connection:
        return last_change(connection)


def changed_since(mark: int) -> "ChangedUnits | None":
    """Return the units whose records changed after a mark, from ``records_mark``.

    Returns
    -------
    ChangedUnits or None
        None where all records have to be read to tell: files beside the store, a plan by which it
        is read, faults, or very many changes.
    """
    kept = store()
    if kept is None or _added() or os.environ.get(HEADINGS) or os.environ.get(KEEP_GOOD):
        return None
    from scoring.store.changed_units import changed_units  # noqa: PLC0415 - as above

    with kept.reading() as connection:
        return changed_units(connection, kept.name, mark, pd.Timestamp.today())


def latest_if_ahead() -> str:
    """Return the latest moment in the store's history where this machine's clock is behind it."""
    kept = store()
    if kept is None:
        return ""
    from scoring.store.clock_followed import latest_if_ahead as latest  # noqa: PLC0415 - as above

    with kept.reading() as connection:
        return latest(connection)


def read_named() -> tuple[FoundFleet, Mapping[str, Mapping[str, str]]]:
    """Read the fleet that the command line named; what headings it maps comes with it.

    Raises
    ------
    FixableError
        If it cannot be read.
    """
    return as_found(fleet_name(), add=_added(), headings=os.environ.get(HEADINGS, "") or None)


def read_and_check() -> tuple[CheckedFleet, tuple[str, ...]]:
    """Read and check the fleet.

    Returns
    -------
    CheckedFleet
        The good rows.
    tuple of str
        What a person should know of the records.

    Raises
    ------
    FixableError
        If they cannot be read.
    NothingToShowError
        If they are faulty, and the command line did not ask to go on without those rows.
    """
    where = fleet_name()
    records = read(where, add=_added(), headings=os.environ.get(HEADINGS, "") or None)
    checked = records.checked
    count = checked.how_many_faults
    nothing_good = checked.unusable or checked.fleet.units.empty
    if count and (nothing_good or not os.environ.get(KEEP_GOOD)):
        raise NothingToShowError(
            f"the records of {where} have {count} faults; see them with: mount-risk check FLEET"
        )
    notes = records.notes
    if count:
        notes += (f"{count} faults in the records; their rows are left out",)
    return checked, notes


def _added() -> tuple[str, ...]:
    return tuple(place for place in os.environ.get(ADD, "").split(os.pathsep) if place)
