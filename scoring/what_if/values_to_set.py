"""Values that checks might have, as a person writes them: ``check=value;check=value``."""

import pandas as pd

from scoring.contract import CHECK_BY_NAME, CHECKS, Table
from scoring.contract.declaration import YES
from scoring.errors import FixableError
from scoring.intake import RawTable
from scoring.intake.faults import Faults
from scoring.intake.read_table import read_table
from scoring.records import unit_has
from scoring.what_if.site_efforts import stop_at_faults

_LOOK = Table("set", "one look that might be taken", "", CHECKS)


def values_to_set_at(text: str, units: pd.DataFrame, place: int) -> pd.DataFrame | None:
    """Read values for one unit; as ``values_to_set``, and refuse what its own record has not.

    Raises
    ------
    FixableError
        Besides, if its record does not say that it has what the check looks at.
    """
    looked = values_to_set(text, str(units["mounting"].iloc[place]))
    for name in [] if looked is None else looked:
        check = CHECK_BY_NAME[str(name)]
        if not unit_has(check, units, place):
            raise FixableError(
                f"{name} is for units with {check.only_where} {YES}; enter that in units first"
            )
    return looked


def values_to_set(text: str, mounting: str) -> pd.DataFrame | None:
    """Read the values that a look would find.

    Parameters
    ----------
    text : str
        As ``check=value;check=value``, units as in a table of walkdowns.
    mounting : str
        Mounting of the unit.

    Returns
    -------
    DataFrame, shape (1, n_checks_set), or None
        None where nothing is set.

    Raises
    ------
    FixableError
        If there is no such check, or not on this mounting.
    FaultyRecordsError
        If a value is none that the check can have.

    Examples
    --------
    >>> values_to_set("guard=missing; shaft_runout_in=0.01", "keyed_bore").to_dict("records")
    [{'shaft_runout_mm': 0.254, 'guard': 'missing'}]
    """
    parts = [part.strip() for part in text.split(";") if part.strip()]
    if not parts:
        return None
    pairs = [part.partition("=") for part in parts]
    if not all(mark for _, mark, _ in pairs):
        raise FixableError(f"{text!r} is not check=value, with ; between checks")
    headings, cells = [name.strip() for name, _, _ in pairs], [v.strip() for _, _, v in pairs]
    raw = RawTable.from_rows(_LOOK.name, "--set", headings, [cells])
    faults = Faults(_LOOK.name, raw.sources)
    read = read_table(raw, _LOOK, {}, faults)
    if read.aside:
        raise FixableError(
            f"there is no check {' and no check '.join(read.aside)}; mount-risk columns lists them"
        )
    stop_at_faults(faults)
    looked = read.frame[list(CHECK_BY_NAME)].dropna(axis=1)
    wrong = [name for name in looked if mounting not in CHECK_BY_NAME[str(name)].mountings]
    if wrong:
        raise FixableError(f"a {mounting} has no {', '.join(map(str, wrong))}")
    return looked
