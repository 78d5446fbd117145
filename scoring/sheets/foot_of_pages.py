"""What a sheet rests on: day, records, program; at the foot of each of its pages."""

from importlib.metadata import version

import pandas as pd

from scoring.learning.fleet_fingerprint import fleet_fingerprint
from scoring.records import Fleet

LETTERS_OF_FINGERPRINT = 12
"""So many hexadecimal digits tell records of one plant apart. Ours."""


def foot_of_pages(fleet: Fleet, as_of: pd.Timestamp) -> tuple[str, ...]:
    """Return what stands at the foot of each page.

    Parameters
    ----------
    fleet : Fleet
        The records.
    as_of : Timestamp
        What was known by the end of this day.

    Returns
    -------
    tuple of str
    """
    return (
        f"as of {as_of:%Y-%m-%d}",
        f"records {fleet_fingerprint(fleet)[:LETTERS_OF_FINGERPRINT]}",
        f"mount-risk {version('mount-risk')}",
    )
