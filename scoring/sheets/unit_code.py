"""The code by which a sheet or a label finds its unit again: an address, with a host or without."""

from urllib.parse import parse_qs, quote, urlsplit

from scoring.errors import FixableError
from scoring.sheets.sheet_blocks import Written

MOST_LETTERS = 400
"""An address of more letters makes a code that no phone reads from a label. Ours."""

PAGES = {"unit": "unit", "form": "walkdown/new"}
"""Where a code leads: the page of the unit, or a new walkdown of it."""


def code_of_unit(unit_id: str, host: str = "", page: str = "unit") -> Written:
    """Return what the code of a unit holds.

    Parameters
    ----------
    unit_id : str
        The unit.
    host : str
        Where the pages are, as ``https://plant.example:8501``; by default the code holds the unit
        alone, which a search box of the pages finds.
    page : str
        ``unit`` or ``form``.

    Returns
    -------
    Written

    Raises
    ------
    FixableError
        If the host is no address of a web page, or the code would be too long to be read.

    Examples
    --------
    >>> code_of_unit("CH 1/a")
    'unit?unit=CH%201%2Fa'
    >>> code_of_unit("CH-1", "https://plant.example/")
    'https://plant.example/unit?unit=CH-1'
    """
    code = PAGES[page] + "?unit=" + quote(unit_id, safe="")
    if host:
        parts = urlsplit(host)
        if parts.scheme not in {"http", "https"} or not parts.hostname or "@" in parts.netloc:
            raise FixableError(
                f"{host!r} is no address of the pages; give it as https://plant.example:8501"
            )
        code = f"{host.rstrip('/')}/{code}"
    if len(code) > MOST_LETTERS:
        raise FixableError(
            f"the code of unit {unit_id[:20]!r}... would have {len(code)} letters; a phone reads "
            f"{MOST_LETTERS} from a label: give a shorter --host or a shorter id"
        )
    return Written(code)


def unit_of_code(code: str) -> str | None:
    """Return the unit that a code stands for; None where it is no code of ours.

    Examples
    --------
    >>> unit_of_code("https://plant.example/unit?unit=CH-1"), unit_of_code("hello")
    ('CH-1', None)
    """
    try:
        parts = urlsplit(code.strip())
    except ValueError:  # what begins like an address and is none
        return None
    if not any(parts.path.strip("/").endswith(page) for page in PAGES.values()):
        return None
    found = parse_qs(parts.query).get("unit", [])
    return found[0] if len(found) == 1 else None
