"""What is due at a unit, in words."""

from collections.abc import Sequence
from typing import Any

import pandas as pd

from dashboard.presenters.words import day_said, money
from scoring.contract import CHECK_BY_NAME, Seen
from scoring.contract.amounts_in_words import thousands
from scoring.looking.due_looks import AFTER_REWORK, NEVER_SEEN, SUGGESTED, TOO_LONG_AGO, WHY

MOST_NAMED = 3
"""How many checks are named under one reason."""

MINUTES_PER_H = 60.0


def reasons_said(row: "pd.Series[Any]") -> list[str]:
    """Say why a unit is due, the first reason first.

    Parameters
    ----------
    row : Series
        A row of ``due_looks``.
    """
    said = []
    if row[AFTER_REWORK]:
        day = pd.Timestamp(str(row["done_on"]))
        said.append(
            f"not looked at since the re-work of {day_said(day)}: {_named(str(row[AFTER_REWORK]))}"
        )
    if row[NEVER_SEEN]:
        said.append(f"never seen: {_named(str(row[NEVER_SEEN]))}")
    if row[TOO_LONG_AGO]:
        said.append(f"seen too long ago: {_named(str(row[TOO_LONG_AGO]))}")
    if row[SUGGESTED]:
        worth = money(float(str(row["value"])), row["currency"])
        said.append(f"suggested, may save {worth}: {_named(str(row[SUGGESTED]))}")
    return said


def is_stopped_for(row: "pd.Series[Any]") -> bool:
    """Tell whether the machine has to be stopped for any of it."""
    names = ";".join(str(row[why]) for why in WHY if row[why]).split(";")
    return any(CHECK_BY_NAME[name].seen is not Seen.RUNNING for name in names if name)


def summed_up(begun: int, due: pd.DataFrame, where: str) -> str:
    """Say in one sentence what there is to do.

    Examples
    --------
    >>> summed_up(2, pd.DataFrame({"minutes": [60.0, 120.0]}), "at Upper pit")
    '2 begun, 2 due at Upper pit, about 3 hours.'
    >>> summed_up(0, pd.DataFrame({"minutes": []}), "at all sites")
    'Nothing begun, nothing due at all sites.'
    """
    first = f"{begun} begun" if begun else "Nothing begun"
    if due.empty:
        return f"{first}, nothing due {where}."
    hours = float(due["minutes"].sum()) / MINUTES_PER_H
    return f"{first}, {thousands(len(due))} due {where}, about {_two_figures(hours)} hours."


def where_said(site: str, line: str) -> str:
    """Say of which site and line one speaks.

    Examples
    --------
    >>> where_said("Upper pit", "belt 4"), where_said("", "")
    ('on belt 4 at Upper pit', 'at all sites')
    """
    return f"{f'on {line} ' if line else ''}at {site or 'all sites'}"


def place_said(parts: Sequence[object]) -> str:
    """Say where a unit stands; what is not known is left out."""
    return ", ".join(str(part) for part in parts if isinstance(part, str) and part)


def _named(names: str) -> str:
    labels = [CHECK_BY_NAME[name].label for name in names.split(";")]
    more = len(labels) - MOST_NAMED
    return ", ".join(labels[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _two_figures(hours: float) -> str:
    near = float(f"{hours:.2g}")
    return thousands(near) if near == round(near) else f"{near:g}"
