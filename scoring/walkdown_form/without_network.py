"""One file with the form of a whole route, for where there is no network."""

from collections.abc import Sequence

import pandas as pd

from scoring.errors import FixableError
from scoring.walkdown_form.document import form_document
from scoring.walkdown_form.page.page import page_without_network

MOST_UNITS = 200
"""More would make a file that a phone opens slowly; planning value of ours."""


def route_page(units: pd.DataFrame, unit_ids: Sequence[str], route: str) -> str:
    """Write the form of a route as one HTML text that asks nothing of any network.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    unit_ids : sequence of str
        The units, in the order of the walk.
    route : str
        Name of the route. A browser keeps the answers under it, so that a page made anew under
        the same name finds them again.

    Returns
    -------
    str
        The page.

    Raises
    ------
    FixableError
        If there are more than ``MOST_UNITS`` units, or one is not in the table.
    """
    if len(unit_ids) > MOST_UNITS:
        raise FixableError(
            f"{len(unit_ids)} units are too many for one page; at most {MOST_UNITS}. Make one for "
            "each line: --site, --line or --unit"
        )
    return page_without_network(form_document(units, unit_ids), route)
