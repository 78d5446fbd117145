"""Find a fleet wherever it lies: in a store, in files, or in files that a plan reads."""

from collections.abc import Callable, Mapping
from importlib import import_module
from pathlib import Path

from scoring.files.planned_records import (
    plan_beside,
    read_place_by_plan,
    read_plan,
)
from scoring.files.read_fleet import FoundFleet, read_fleet, read_place, with_added
from scoring.files.rows_of_all_plants import plants_together
from scoring.reading_plan import Plan
from scoring.reading_plan.several_plants import plant_and_place
from scoring.store.store_or_files import is_store_address

BETWEEN_PLANTS = "\n"
"""Between the places of several plants that are given as one."""

Mapping_ = Mapping[str, Mapping[str, str]]


def find_fleet(
    where: str,
    add: tuple[str, ...] = (),
    plan: Path | None = None,
    mapping: Mapping_ | None = None,
) -> FoundFleet:
    """Read a fleet.

    Parameters
    ----------
    where : str
        The address of a store, a folder, a file, or ``demo:NAME``; of several plants each as
        ``NAME=PLACE``, with ``BETWEEN_PLANTS`` between them.
    add : tuple of str
        Further such places, whose rows come below; these need not hold every table.
    plan : Path, optional
        A reading plan; by default the one that lies beside the records, if there is one.
    mapping : mapping of str to mapping, optional
        For each table a plant's own headings and the columns they stand for.

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
    return read_fleet(where, add=add, read=_reader(plan, mapping))


def find_records(
    where: str,
    add: tuple[str, ...] = (),
    plan: Path | None = None,
    mapping: Mapping_ | None = None,
) -> FoundFleet:
    """Read records that need not be a whole fleet, such as walkdowns alone."""
    read = _reader(plan, mapping)
    return with_added(read(where), add, read)


def _reader(plan: Path | None, mapping: Mapping_ | None) -> Callable[[str], FoundFleet]:
    given = read_plan(plan) if plan else None

    def read(where: str) -> FoundFleet:
        places = [plant_and_place(place) for place in where.split(BETWEEN_PLANTS)]
        found = [(name, find_place(place, given)) for name, place in places]
        return plants_together(found, mapping)

    return read


def find_place(where: str, plan: Plan | None = None) -> FoundFleet:
    """Read what one place holds, by a plan if there is one."""
    if is_store_address(where):
        if plan is not None and plan.queries:
            return read_place_by_plan(where, plan)
        # Who reads files does not wait for what a store needs.
        found: FoundFleet = import_module("scoring.store.read_store").read_store(where)
        return found
    beside = None if where.startswith("demo:") else plan_beside(where)
    if plan is None and beside is not None:
        plan = read_plan(beside)
    ending = Path(where).suffix.lower()
    if plan is None and ending == ".ods":
        plan = Plan()
    if plan is None or where.startswith("demo:") or ending == ".json":
        return read_place(where)
    return read_place_by_plan(where, plan)
