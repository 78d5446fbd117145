"""By when a unit is to be looked at again."""

from dataclasses import dataclass

import pandas as pd

from scoring.contract import CHECKS
from scoring.records import has_mounting
from scoring.timeline.known import Known, Status


@dataclass(frozen=True)
class NextLook:
    """The next look that is due at a unit.

    Attributes
    ----------
    by : Timestamp
        The last day on which it is in time.
    checks : tuple of str
        Labels of the checks to be seen by that day.
    """

    by: pd.Timestamp
    checks: tuple[str, ...]


def next_look(known: Known, unit_id: str) -> NextLook | None:
    """Tell by when a unit is to be looked at again, and what is to be seen.

    Parameters
    ----------
    known : Known
        What was known of the units in service.
    unit_id : str
        One of them.

    Returns
    -------
    NextLook or None
        None where no critical check that was seen good has to be seen again.
    """
    here = (known.units["unit_id"] == unit_id).to_numpy()
    of_unit = known.units[here]
    days: dict[str, pd.Timestamp] = {}
    for check in CHECKS:
        if check.due_after_days is None or not has_mounting(of_unit, check.critical_for).all():
            continue
        seen = known.status[check.name][here].iloc[0] == Status.SEEN
        if seen and known.exceedance[check.name][here].iloc[0] == 0:
            last = pd.Timestamp(known.seen_on[check.name][here].iloc[0])
            days[check.label] = last.normalize() + pd.Timedelta(days=check.due_after_days)
    if not days:
        return None
    first = min(days.values())
    return NextLook(first, tuple(label for label, day in days.items() if day == first))
