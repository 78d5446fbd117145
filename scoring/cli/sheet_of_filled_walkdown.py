"""``mount-risk sheet filled``: a walkdown as it was filled in."""

from pathlib import Path

import click
import pandas as pd

from scoring.cli.loading import (
    fleet_argument,
    fleet_options,
    keep_good_options,
    keep_good_or_stop,
    load_checked,
)
from scoring.cli.sheet_options import SheetAsked, asks_for_a_sheet
from scoring.entering.walkdown_as_filled import last_walkdown_of, walkdown_as_filled
from scoring.sheets.filled_walkdown import filled_walkdown
from scoring.sheets.foot_of_pages import foot_of_pages
from scoring.store.address import is_store_address
from scoring.store.open_store import open_store


@click.command("filled")
@fleet_argument
@click.option("--walkdown", "walkdown_id", help="This walkdown, by its id.")
@click.option("--unit", "unit_id", help="The last walkdown of this unit.")
@asks_for_a_sheet
@fleet_options
@keep_good_options
def command(  # noqa: PLR0913, PLR0917 - a command has the options it has
    asked: SheetAsked,
    fleet: str,
    walkdown_id: str | None,
    unit_id: str | None,
    add: tuple[str, ...],
    headings: Path | None,
    rejected: Path,
    *,
    keep_good: bool,
) -> None:
    """Make the sheet of a walkdown: findings on the drawing, verdict, photos, who signed."""
    if (walkdown_id is None) is (unit_id is None):
        raise click.UsageError("give --walkdown for one by its id, or --unit for its last one")
    checked = load_checked(fleet, add, headings)
    keep_good_or_stop(checked, keep_good=keep_good, rejected=rejected)
    which = walkdown_id or last_walkdown_of(checked.fleet, unit_id or "")
    store = open_store(fleet) if is_store_address(fleet) else None
    filled = walkdown_as_filled(checked.fleet, which, store)
    foot = foot_of_pages(checked.fleet, pd.Timestamp.today().normalize())
    asked.write(filled_walkdown(filled, foot, asked.host))
