"""Find a fleet wherever it lies: in a store, or in files."""

from importlib import import_module

from scoring.files.read_fleet import FoundFleet, read_fleet, read_place, with_added
from scoring.store.store_or_files import is_store_address


def find_fleet(where: str, add: tuple[str, ...] = ()) -> FoundFleet:
    """Read a fleet.

    Parameters
    ----------
    where : str
        The address of a store, a folder, a workbook, or ``demo:NAME``.
    add : tuple of str
        Further such places, whose rows come below; these need not hold every table.

    Returns
    -------
    FoundFleet

    Raises
    ------
    UnreadableFleetError
        If nothing is there, a needed table is missing, or a file cannot be read.
    StoreError
        If a store cannot be used.

    Examples
    --------
    >>> sorted(find_fleet("demo:small_quarry").tables)[:2]
    ['accepted', 'events']
    """
    return read_fleet(where, add=add, read=find_place)


def find_records(where: str, add: tuple[str, ...] = ()) -> FoundFleet:
    """Read records that need not be a whole fleet, such as walkdowns alone."""
    return with_added(find_place(where), add, find_place)


def find_place(where: str) -> FoundFleet:
    """Read what one place holds."""
    if not is_store_address(where):
        return read_place(where)
    # Who reads files does not wait for what a store needs.
    found: FoundFleet = import_module("scoring.store.read_store").read_store(where)
    return found
