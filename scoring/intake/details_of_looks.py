"""A detail that is filled says what its check was found to be, whatever its own cell says."""

import pandas as pd

from scoring.contract.details import DETAILS


def fill_in_what_details_say(walkdowns: pd.DataFrame) -> None:
    """Set the checks of which a filled detail tells the answer; the worse of the two counts.

    Parameters
    ----------
    walkdowns : DataFrame
        The table ``walkdowns``, which is changed.

    Examples
    --------
    >>> said = pd.Categorical([None, "no"], ["no", "yes"], ordered=True)
    >>> looks = pd.DataFrame({"metal_contact": said, "contact_at": ["motor", None]})
    >>> fill_in_what_details_say(looks)
    >>> looks["metal_contact"].tolist()
    ['yes', 'no']
    """
    for detail in (detail for detail in DETAILS if detail.says):
        filled = walkdowns[detail.name].notna()
        for check in detail.of:
            walkdowns.loc[filled, check] = detail.says
