"""How many checks a walkdown asks, by its kind and the state of the machine."""

import pandas as pd

from scoring.contract import CHECKS
from scoring.records import units_with
from scoring.walkdown_form.visit_questions import STATES


def asked_checks(unit: pd.DataFrame, state: str, kind: str) -> set[str]:
    """Return the checks that the form asks of one unit.

    Parameters
    ----------
    unit : DataFrame, shape (1, ...)
        Its row of ``units``.
    state, kind : str
        State of the machine and kind of the visit, as the form keeps them; empty where nobody has
        said so yet: then nothing is asked.

    Returns
    -------
    set of str
    """
    seen = next((can_be_seen for name, _, can_be_seen in STATES if name == state), ())
    return {
        check.name
        for check in CHECKS
        if check.seen in seen
        and (not check.asked_on or kind in check.asked_on)
        and units_with(check, unit)[0]
    }
