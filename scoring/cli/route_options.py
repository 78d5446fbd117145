"""The options by which a command narrows a fleet to the units of one walk."""

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click
import pandas as pd

from scoring.errors import FixableError
from scoring.files.route_list import read_route_list
from scoring.walkdown_form.units_in_service import units_in_service

Command = TypeVar("Command", bound=Callable[..., object])


def route_options(command: Command) -> Command:
    """Add the options ``--site``, ``--line`` and ``--unit``, each as often as need be."""
    for option in (
        click.option("--unit", "unit_ids", multiple=True, help="Only this unit; repeatable."),
        click.option("--line", "lines", multiple=True, help="Only units of this line; repeatable."),
        click.option("--site", "sites", multiple=True, help="Only units of this site; repeatable."),
    ):
        command = option(command)
    return command


def chosen_units(
    units: pd.DataFrame,
    *,
    sites: tuple[str, ...],
    lines: tuple[str, ...],
    unit_ids: tuple[str, ...],
    route: Path | None = None,
) -> list[str]:
    """Return the units of a walk, in its order.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    sites, lines, unit_ids : tuple of str
        As asked for; empty: all.
    route : Path, optional
        A CSV file with a column ``unit_id`` in the order of the walk, instead of ``unit_ids``.

    Returns
    -------
    list of str

    Raises
    ------
    FixableError
        If there are none, or both a file and units are named.
    """
    if route is not None and unit_ids:
        raise FixableError("give the units either by --unit or in a file, not both")
    named = tuple(read_route_list(route)) if route is not None else unit_ids
    today = pd.Timestamp.today().normalize()
    return units_in_service(units, today, sites=sites, lines=lines, unit_ids=named)
