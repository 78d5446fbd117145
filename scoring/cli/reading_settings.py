"""Options that questions about re-work share: what re-work takes at a plant."""

from pathlib import Path

import click
import pandas as pd

from scoring.files.csv_reading import read_csv
from scoring.what_if.site_efforts import SiteEfforts, read_settings

actions_option = click.option(
    "--actions",
    "settings",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    default=None,
    metavar="FILE",
    help="CSV of what re-work takes at your sites: site, action, hours, people, crane, lead_days, "
    "parts_cost, labour_cost_per_h, line_stops; blank cells keep our planning values. With "
    "the action stand_on_hold, standing_cost_per_day is what a unit on hold costs.",
)


def efforts_from(settings: Path | None, units: pd.DataFrame) -> SiteEfforts:
    """Read what re-work takes at a plant, if it says so."""
    if settings is None:
        return SiteEfforts()
    return read_settings(read_csv(settings, "rework_settings"), units["site"])
