"""Published tables of lifetimes, small enough to stand here."""

import numpy as np

from scoring.learning.lifetimes import Lifetimes

CAGE_FAILURES = np.array([230.0, 334.0, 423.0, 990.0, 1009.0, 1510.0])
CAGE_SURVIVORS = np.array(
    [
        [50, 288],
        [150, 148],
        [250, 124],
        [350, 111],
        [450, 106],
        [550, 99],
        [650, 110],
        [750, 114],
        [850, 119],
        [950, 127],
        [1050, 123],
        [1150, 93],
        [1250, 47],
        [1350, 41],
        [1450, 27],
        [1550, 11],
        [1650, 6],
        [1850, 1],
        [2050, 2],
    ]
)
"""Bearing cages in the field: hours at failure; hours and number of those still running.

Data table read in the R data package SMRD.data; Abernethy et al. 1983, AFWAL-TR-83-2079, and
Meeker & Escobar 1998, example 8.16, both from memory.
"""

SHOCK_ABSORBERS = np.array(
    [
        [6700, 1],
        [6950, 0],
        [7820, 0],
        [8790, 0],
        [9120, 2],
        [9660, 0],
        [9820, 0],
        [11310, 0],
        [11690, 0],
        [11850, 0],
        [11880, 0],
        [12140, 0],
        [12200, 1],
        [12870, 0],
        [13150, 2],
        [13330, 0],
        [13470, 0],
        [14040, 0],
        [14300, 1],
        [17520, 1],
        [17540, 0],
        [17890, 0],
        [18450, 0],
        [18960, 0],
        [18980, 0],
        [19410, 0],
        [20100, 2],
        [20100, 0],
        [20150, 0],
        [20320, 0],
        [20900, 2],
        [22700, 1],
        [23490, 0],
        [26510, 1],
        [27410, 0],
        [27490, 1],
        [27890, 0],
        [28100, 0],
    ]
)
"""Distance [km, from memory] and failure: 0 none, 1 and 2 the two modes.

Data table read in the R data package SMRD.data; O'Connor 1985, from memory.
"""

MAINTAINED = np.array(
    [
        [9, 1],
        [13, 1],
        [13, 0],
        [18, 1],
        [23, 1],
        [28, 0],
        [31, 1],
        [34, 1],
        [45, 0],
        [48, 1],
        [161, 0],
    ]
)
NOT_MAINTAINED = np.array(
    [
        [5, 1],
        [5, 1],
        [8, 1],
        [8, 1],
        [12, 1],
        [16, 0],
        [23, 1],
        [27, 1],
        [30, 1],
        [33, 1],
        [43, 1],
        [45, 1],
    ]
)
"""Weeks to relapse of leukaemia (from memory), whether it was seen, with and without treatment.

Data as in R survival 3.8-11, tests/doaml; original in Miller 1981 (from memory).
"""

PUMP_FAILURES = np.array([5, 1, 5, 14, 3, 19, 1, 1, 4, 22])
PUMP_HOURS = np.array([94.32, 15.72, 62.88, 125.76, 5.24, 31.44, 1.048, 1.048, 2.096, 10.48])
"""Failures of power-plant pumps, and thousand hours run.

Data: Gaver & O'Muircheartaigh 1987 (from memory), rounded as read at
pmean.com/11/Hierarchical.html.
"""


def numbers(text):
    """Read numbers from a text: shorter on the page than a list."""
    return np.array(text.split(), dtype=float)


def cage_lives():
    return Lifetimes.of(
        np.concatenate([CAGE_FAILURES, CAGE_SURVIVORS[:, 0]]),
        np.arange(len(CAGE_FAILURES) + len(CAGE_SURVIVORS)) < len(CAGE_FAILURES),
        count=np.concatenate([np.ones(len(CAGE_FAILURES)), CAGE_SURVIVORS[:, 1]]),
    )


def shock_absorber_lives(*modes):
    """Lives that end in one of the modes; another mode only takes the unit out of observation."""
    return Lifetimes.of(SHOCK_ABSORBERS[:, 0], np.isin(SHOCK_ABSORBERS[:, 1], modes))


def leukaemia_lives(table):
    return Lifetimes.of(table[:, 0], table[:, 1])
