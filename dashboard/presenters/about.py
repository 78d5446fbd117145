"""What these pages are: of which plant, whether it is invented, and as of which day."""

from collections.abc import Mapping
from html import escape
from pathlib import PurePath
from urllib.parse import urlencode, urlsplit

import pandas as pd

from dashboard.presenters.day_words import ahead_said
from dashboard.presenters.words import day_said

DEMO = "demo:"

WHAT_THIS_IS = (
    "mount-risk takes what inspectors saw at shaft-mounted gear reducers on conveyor shafts, and "
    "says which of them must not run, which to mend first, and what each re-work buys."
)


def plant_name(fleet_name: str) -> str:
    """Return the name of the plant.

    Parameters
    ----------
    fleet_name : str
        As given on the command line: a folder, a workbook, a store or ``demo:NAME``.

    Examples
    --------
    >>> plant_name("demo:grain_port"), plant_name("records/north_pit.xlsx")
    ('Grain port', 'North pit')
    >>> plant_name("postgresql://there/plant")
    'This plant'
    """
    if "://" in fleet_name:
        return "This plant"
    name = fleet_name.removeprefix(DEMO)
    name = PurePath(name).stem if name == fleet_name else name
    name = name.replace("_", " ").strip()
    return f"{name[:1].upper()}{name[1:]}" or "This plant"


def is_invented(fleet_name: str) -> bool:
    """Tell whether a plant comes with the program and is invented.

    Examples
    --------
    >>> is_invented("demo:grain_port"), is_invented("records/north.xlsx")
    (True, False)
    """
    return fleet_name.startswith(DEMO)


def band(fleet_name: str, day: pd.Timestamp, horizon_days: int) -> str:
    """Say above every page which plant it shows, as of when, and how far it looks ahead.

    Examples
    --------
    >>> band("demo:grain_port", pd.Timestamp("2026-06-30"), 365)
    'Grain port (invented), as of 30 June 2026, one year ahead'
    """
    invented = " (invented)" if is_invented(fleet_name) else ""
    return f"{plant_name(fleet_name)}{invented}, as of {day_said(day)}, {ahead_said(horizon_days)}"


def reading_link(address: str | None, query: Mapping[str, str]) -> str:
    """Return a link to where language, numbers and measures are chosen, and back to this page.

    Examples
    --------
    >>> "/reading?to=%2Ffix%3Fsites%3DQuay" in reading_link("/fix", {"sites": "Quay"})
    True
    """
    here = urlsplit(address or "").path or "/"
    back = urlencode({"to": f"{here}?{urlencode(query)}" if query else here})
    return f'<a class="reading" target="_self" href="/reading?{escape(back)}">Language, numbers</a>'
