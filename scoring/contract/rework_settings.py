"""The table ``rework_settings``: what re-work takes at a site, where it differs from our values."""

from scoring.contract.declaration import YES_NO, Column, Kind, Table
from scoring.contract.effort import SET_UPS, STAND_ON_HOLD
from scoring.contract.rework import ACTION_BY_NAME

REWORK_SETTINGS = Table(
    "rework_settings",
    "what an action, or a set-up that actions share, takes at a site; what a unit on hold costs",
    "",
    (
        Column(name="site", kind=Kind.TEXT, meaning="the site; blank: every site"),
        Column(
            name="action",
            kind=Kind.CHOICE,
            allowed=(*ACTION_BY_NAME, *(one.name for one in SET_UPS), STAND_ON_HOLD),
            required=True,
            meaning="the action or set-up; or stand_on_hold, for a unit that stands still",
        ),
        Column(
            name="hours",
            kind=Kind.NUMBER,
            unit="h",
            minimum=0,
            maximum=100_000,
            meaning="own work, hours of one person",
        ),
        Column(name="people", kind=Kind.COUNT, minimum=1, maximum=1000, meaning="people at once"),
        Column(name="crane", kind=Kind.CHOICE, allowed=YES_NO, meaning="whether it needs a crane"),
        Column(
            name="lead_days",
            kind=Kind.COUNT,
            unit="d",
            minimum=0,
            maximum=36_500,
            meaning="how long parts take to come; 0: in store",
        ),
        Column(
            name="parts_cost",
            kind=Kind.NUMBER,
            unit="currency",
            minimum=0,
            maximum=1_000_000_000_000,
            meaning="cost of parts and hire",
        ),
        Column(
            name="labour_cost_per_h",
            kind=Kind.NUMBER,
            unit="currency/h",
            minimum=0,
            maximum=1_000_000_000,
            meaning="cost of an hour of one person",
        ),
        Column(
            name="line_stops",
            kind=Kind.CHOICE,
            allowed=YES_NO,
            meaning="whether the conveyor stands still for it",
        ),
        Column(
            name="standing_cost_per_day",
            kind=Kind.NUMBER,
            unit="currency/d",
            minimum=0,
            maximum=1_000_000_000,
            meaning="of stand_on_hold alone: what a unit on hold costs while it stands still; "
            "blank: it does not count",
        ),
    ),
)
