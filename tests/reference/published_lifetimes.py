"""Published tables of lifetimes, small enough to stand here."""

import numpy as np

from scoring.learning.lifetimes import Lifetimes

BALL_BEARINGS = np.array(
    [
        17.88,
        28.92,
        33.0,
        41.52,
        42.12,
        45.6,
        48.4,
        51.84,
        51.96,
        54.12,
        55.56,
        67.8,
        68.64,
        68.64,
        68.88,
        84.12,
        93.12,
        98.64,
        105.12,
        105.84,
        127.92,
        128.04,
        173.4,
    ]
)
"""Deep-groove ball bearings, all failed. [10⁶ revolutions]

Data: Lieblein & Zelen 1956, J. Res. NBS 57:273 (from memory), as in the docstring of the Python
package surpyval. The usual 23 numbers may not be the whole test: Caroni 2002, from memory.
"""

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

DEVICE_G = [
    (275, "W"),
    (13, "S"),
    (147, "W"),
    (23, "S"),
    (181, "W"),
    (30, "S"),
    (65, "S"),
    (10, "S"),
    (300, "C"),
    (173, "S"),
    (106, "S"),
    (300, "C"),
    (300, "C"),
    (212, "W"),
    (300, "C"),
    (300, "C"),
    (300, "C"),
    (2, "S"),
    (261, "S"),
    (293, "W"),
    (88, "S"),
    (247, "S"),
    (28, "S"),
    (143, "S"),
    (300, "C"),
    (23, "S"),
    (300, "C"),
    (80, "S"),
    (245, "W"),
    (266, "W"),
]
"""Kilocycles and failure: S surge, W wear-out, C still running.

Data table read in the R data package SMRD.data; Meeker & Escobar 1998, from memory.
"""

CONTROLS_FAILED = np.array(
    [
        22.5,
        37.5,
        46.0,
        48.5,
        51.5,
        53.0,
        54.5,
        57.5,
        66.5,
        68.0,
        69.5,
        76.5,
        77.0,
        78.5,
        80.0,
        81.5,
        82.0,
        83.0,
        84.0,
        91.5,
        93.5,
        102.5,
        107.0,
        108.5,
        112.5,
        113.5,
        116.0,
        117.0,
        118.5,
        119.0,
        120.0,
        122.5,
        123.0,
        127.5,
        131.0,
        132.5,
        134.0,
    ]
)
CONTROLS_RUNNING = (135.0, 59)
"""Locomotive controls: thousand miles at failure; distance and number of those still running.

Data table read in the R data package SMRD.data.
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

VALVE_SEATS = {
    251: ([], 761),
    252: ([], 759),
    327: ([98], 667),
    328: ([326, 653, 653], 667),
    329: ([], 665),
    330: ([84], 667),
    331: ([87], 663),
    389: ([646], 653),
    390: ([92], 653),
    391: ([], 651),
    392: ([258, 328, 377, 621], 650),
    393: ([61, 539], 648),
    394: ([254, 276, 298, 640], 644),
    395: ([76, 538], 642),
    396: ([635], 641),
    397: ([349, 404, 561], 649),
    398: ([], 631),
    399: ([], 596),
    400: ([120, 479], 614),
    401: ([323, 449], 582),
    402: ([139, 139], 589),
    403: ([], 593),
    404: ([573], 589),
    405: ([165, 408, 604], 606),
    406: ([249], 594),
    407: ([344, 497], 613),
    408: ([265, 586], 595),
    409: ([166, 206, 348], 389),
    410: ([], 601),
    411: ([410, 581], 601),
    412: ([], 611),
    413: ([], 608),
    414: ([], 587),
    415: ([367], 603),
    416: ([202, 563, 570], 585),
    417: ([], 587),
    418: ([], 578),
    419: ([], 578),
    420: ([], 586),
    421: ([], 585),
    422: ([], 582),
}
"""Diesel engines: days of valve-seat replacements, and day up to which it was watched.

Data: valveSeat of R survival; Nelson 2003 and Meeker & Escobar 1998, from memory.
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
    """Lives that end in one of the modes; another mode only takes the unit out of sight."""
    return Lifetimes.of(SHOCK_ABSORBERS[:, 0], np.isin(SHOCK_ABSORBERS[:, 1], modes))


def device_lives(*modes):
    return Lifetimes.of([age for age, _ in DEVICE_G], [mode in modes for _, mode in DEVICE_G])


def control_lives():
    age, count = CONTROLS_RUNNING
    return Lifetimes.of(
        np.append(CONTROLS_FAILED, age),
        np.arange(len(CONTROLS_FAILED) + 1) < len(CONTROLS_FAILED),
        count=np.append(np.ones(len(CONTROLS_FAILED)), count),
    )


def leukaemia_lives(table):
    return Lifetimes.of(table[:, 0], table[:, 1])
