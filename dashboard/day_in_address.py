"""The day the pages speak of and how far they look ahead: chosen in the address, else as usual.

Both stand in the address alone, so that a link, Back and reload say all there is to say. What runs
beside the pages, and the walkdown form, speak of the real day.
"""

import datetime as dt
from dataclasses import dataclass

import pandas as pd
import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from dashboard import launch_settings

AS_OF, AHEAD = "as_of", "ahead"
"""Names in the address."""

HORIZONS_DAYS = (90, 180, 365, 730)
"""So far ahead a person may look; chances at an age beyond that rest on ever less. Ours. [d]"""


@dataclass(frozen=True)
class Asked:
    """What the pages shall speak of.

    Attributes
    ----------
    as_of : Timestamp
        The day.
    horizon_days : int
        So far ahead chances and losses reach. [d]
    """

    as_of: pd.Timestamp
    horizon_days: int


def usual() -> Asked:
    """Return what is shown where nobody has chosen: the real day, or the command line's."""
    return Asked(launch_settings.day_spoken_of(), launch_settings.HORIZON_DAYS)


def asked(first: dt.date) -> Asked:
    """Return what the address asks for; what may not be asked counts as not said.

    Parameters
    ----------
    first : date
        The day of the first record.
    """
    said, at_first = in_the_address(), usual()
    day, ahead = read_day(said.get(AS_OF, "")), said.get(AHEAD, "")
    if day is None or not first <= day <= at_first.as_of.date():
        day = at_first.as_of.date()
    return Asked(
        pd.Timestamp(day),
        int(ahead) if ahead in map(str, HORIZONS_DAYS) else at_first.horizon_days,
    )


def refused(first: dt.date) -> str:
    """Say what of the address cannot be shown, and what can; nothing where all can."""
    said, last = in_the_address(), usual().as_of.date()
    wrong = []
    day = read_day(said.get(AS_OF, ""))
    if AS_OF in said and (day is None or not first <= day <= last):
        wrong.append(f"The address asks for the day {said[AS_OF]}; days from {first} to {last} can")
    if AHEAD in said and said[AHEAD] not in map(str, HORIZONS_DAYS):
        days = ", ".join(map(str, HORIZONS_DAYS))
        wrong.append(f"The address asks to look {said[AHEAD]} days ahead; {days} can")
    return "".join(f"{one} be shown. " for one in wrong).strip()


def choose(chosen: Asked) -> None:
    """Write what is chosen into the address; what is as usual is left out."""
    said = as_parameters(chosen)
    for name in (AS_OF, AHEAD):
        if name in said:
            st.query_params[name] = said[name]
        else:
            st.query_params.pop(name, None)


def as_parameters(chosen: Asked) -> dict[str, str]:
    """Return what a link must say so that it shows the same day and horizon."""
    at_first, said = usual(), {}
    if chosen.as_of != at_first.as_of:
        said[AS_OF] = str(chosen.as_of.date())
    if chosen.horizon_days != at_first.horizon_days:
        said[AHEAD] = str(chosen.horizon_days)
    return said


def in_the_address() -> dict[str, str]:
    """Return what the address says of day and horizon, right or wrong; every link carries it on."""
    if get_script_run_ctx(suppress_warning=True) is None:
        return {}
    return {name: st.query_params[name] for name in (AS_OF, AHEAD) if name in st.query_params}


def read_day(text: str) -> dt.date | None:
    """Read a day as 2026-03-31; none where it is none.

    Examples
    --------
    >>> read_day("2026-03-31"), read_day("20260331"), read_day("31 March")
    (datetime.date(2026, 3, 31), None, None)
    """
    try:
        day = dt.date.fromisoformat(text)
    except ValueError:
        return None
    return day if str(day) == text else None
