"""``mount-risk load``: put records into a store."""

from contextlib import closing
from pathlib import Path

import click

from scoring.cli.loading import (
    fleet_argument,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
)
from scoring.cli.screen import err, say, warn
from scoring.cli.store_options import by_option, named_person, store_option
from scoring.entering.load_filled_forms import load_with_filled_forms
from scoring.files.planned_records import plan_or_mapping
from scoring.files.route_reading import RouteWalkdown, read_route
from scoring.intake import CheckedFleet
from scoring.store.address import shown
from scoring.store.find_fleet import find_records
from scoring.store.load_records import Incoming, Loaded
from scoring.store.open_store import open_store


@click.command()
@fleet_argument
@fleet_options
@store_option
@by_option
@keep_good_options
def load(  # noqa: PLR0913, PLR0917 - a command has the options it has
    fleet: str,
    add: tuple[str, ...],
    headings: Path | None,
    store: str,
    by: str | None,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Put the records of FLEET into a store: all of them, or on any fault none.

    FLEET may also be another store, or a file of the walkdown form without a network. It need not
    hold every table: its rows are checked beside what the store holds. Loading the same again
    changes nothing; a row that differs becomes a new version, and the old one stays in the history.
    """
    plan, mapping = plan_or_mapping(headings)
    actor = named_person(by)
    with err.status("reading records"):
        found = find_records(fleet, add, plan, mapping)
        forms = _filled_forms((fleet, *add))
    source = ", ".join(_named(place) for place in (fleet, *add))
    incoming = Incoming(found.tables, source, mapping, forms)

    def allow(checked: CheckedFleet) -> None:
        for note in (*found.notes, *checked.notes):
            warn(f"note: {note}")
        for assumption in checked.assumptions:
            warn(f"assumed: {assumption}")
        keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected, needs_units=False)

    with closing(open_store(store, make=True)) as opened:
        with err.status("checking and loading records"):
            loaded = load_with_filled_forms(opened, incoming, forms, actor=actor, allow=allow)
        _tell(loaded, opened.name)


def _filled_forms(places: tuple[str, ...]) -> dict[str, RouteWalkdown]:
    """Return what the walkdown form kept beside the walkdowns of its files."""
    files = [Path(place) for place in places if place.lower().endswith(".json")]
    return {key: one for file in files for key, one in read_route(file).beside().items()}


def _named(place: str) -> str:
    """Return a place as the history names it: without the folders of one machine."""
    return shown(place) if "://" in place else place.rstrip("/\\").replace("\\", "/").split("/")[-1]


def _tell(loaded: Loaded, store: str) -> None:
    for walkdown_id in loaded.overtaken:
        warn(
            f"note: {walkdown_id} is an older version of a walkdown that was corrected in the "
            "store since; the correction stands"
        )
    say(f"{store}:")
    for table, put in loaded.puts.items():
        out = loaded.rejected.get(table, 0)
        say(
            f"  {table}: {put.added} added, {put.changed} changed, {put.same} there already"
            + (f", {out} rejected" if out else "")
        )
