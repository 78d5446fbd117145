"""Find units by any part of their id, or by what a phone read from a sheet or a label."""

from collections.abc import Sequence
from html import escape
from urllib.parse import urlencode

from scoring.sheets.unit_code import unit_of_code

MOST_LISTED = 24
"""Of units that fit, so many are listed."""


def units_with(part: str, unit_ids: Sequence[str]) -> list[str]:
    """Return the units whose id has a part, in any case; the whole id has precedence.

    Parameters
    ----------
    part : str
        What a person typed, or the whole of what a code holds: then that unit alone.
    unit_ids : sequence of str
        In the order in which they are returned.

    Examples
    --------
    >>> units_with("s-03", ["SS-031", "SS-039", "SS-1"]), units_with(" ss-1 ", ["SS-10", "SS-1"])
    (['SS-031', 'SS-039'], ['SS-1'])
    >>> units_with("", ["SS-1"]), units_with("unit?unit=SS-1", ["SS-10", "SS-1"])
    ([], ['SS-1'])
    """
    coded = unit_of_code(part)
    if coded is not None:
        return [one for one in unit_ids if str(one) == coded]
    wanted = part.strip().casefold()
    if not wanted:
        return []
    fits = [one for one in unit_ids if wanted in str(one).casefold()]
    exact = [one for one in fits if str(one).casefold() == wanted]
    return exact if len(exact) == 1 else fits


def unit_link(unit_id: str) -> str:
    """Return the address of a unit's page.

    Examples
    --------
    >>> unit_link("A&B 1")
    '/unit?unit=A%26B+1'
    """
    return f"/unit?{urlencode({'unit': unit_id})}"


def found_units(part: str, fits: Sequence[str]) -> str:
    """Return links to the units that fit, as HTML; what a person typed is shown as it is."""
    typed = escape(unit_of_code(part) or part.strip())
    if not fits:
        return f'<p class="found">No unit has <b>{typed}</b> in its id.</p>'
    links = " ".join(
        f'<a href="{escape(unit_link(one))}">{escape(one)}</a>' for one in fits[:MOST_LISTED]
    )
    more = len(fits) - MOST_LISTED
    rest = ""
    if more > 0:
        listed = escape(f"/fix?{urlencode({'search': part.strip()})}")
        rest = f' <a href="{listed}">and {more} more, in the ranking</a>'
    return f'<nav class="found" aria-label="units found">{len(fits)} units: {links}{rest}</nav>'
