"""The table ``ranking``: what comes out, one row a unit in service."""

from scoring.contract.declaration import Column, Kind, Table
from scoring.contract.events import MODE_WORDS

HOLD = "hold"
CORRECT = "correct"
WATCH = "watch"
NO_FINDING = "no_finding"
VERDICTS = (HOLD, CORRECT, WATCH, NO_FINDING)
"""From the most to the least urgent."""


def _probability(mode: str, what: str) -> tuple[Column, ...]:
    base = f"chance of the first {what} within the horizon"
    return tuple(
        Column(name=name, kind=Kind.NUMBER, minimum=0, maximum=1, meaning=meaning)
        for name, meaning in (
            (f"p_{mode}", base),
            (f"p_{mode}_low", f"{base}: lower end of its 90 % interval"),
            (f"p_{mode}_high", f"{base}: upper end of its 90 % interval"),
        )
    )


RANKING = Table(
    "ranking",
    "one unit in service at the as-of date, holds first",
    "unit_id",
    (
        Column(name="rank", kind=Kind.COUNT, meaning="place in the list, 1 first", minimum=1),
        Column(name="unit_id", kind=Kind.IDENTIFIER, meaning="the unit"),
        Column(name="site", kind=Kind.TEXT, meaning="where it stands"),
        Column(name="verdict", kind=Kind.CHOICE, allowed=VERDICTS, meaning="what the rules say"),
        *(column for mode, words in MODE_WORDS.items() for column in _probability(mode, words)),
        Column(
            name="expected_loss",
            kind=Kind.NUMBER,
            unit="currency",
            minimum=0,
            meaning="chance times repair and standstill, summed over the failures",
        ),
        Column(name="currency", kind=Kind.TEXT, meaning="ISO 4217 code"),
        Column(
            name="slip_margin",
            kind=Kind.NUMBER,
            minimum=0,
            meaning="torque the joint carries as found over the peak torque",
        ),
        Column(
            name="added_bearing_load_n",
            kind=Kind.NUMBER,
            unit="N",
            meaning="load that a restrained torque arm puts on one low-speed bearing",
        ),
        Column(
            name="bearing_life_ratio",
            kind=Kind.NUMBER,
            minimum=0,
            meaning="rating life of the low-speed bearings as found over as specified",
        ),
        Column(
            name="seal_runout_ratio",
            kind=Kind.NUMBER,
            minimum=0,
            meaning="run-out at the output seal over what it bears",
        ),
        Column(name="main_reasons", kind=Kind.TEXT, meaning="why, the worst first"),
        Column(name="first_action", kind=Kind.TEXT, meaning="what to do first"),
        Column(name="not_seen", kind=Kind.TEXT, meaning="critical checks that nobody saw"),
        Column(name="assumed", kind=Kind.TEXT, meaning="what was taken for granted"),
        Column(name="as_of", kind=Kind.DATE, meaning="what was known by the end of this day"),
        Column(name="horizon_days", kind=Kind.COUNT, unit="d", meaning="days looked ahead"),
        Column(
            name="basis",
            kind=Kind.TEXT,
            meaning="what it rests on: rules, handbook, handbook and fleet, handbook and other "
            "plants, or handbook, other plants and fleet",
        ),
    ),
)
