"""The table ``windows``: shutdowns in which re-work can be done; and the plan made of them."""

from scoring.contract.declaration import YES_NO, Column, Kind, Table

WINDOWS = Table(
    "windows",
    "one shutdown",
    "window",
    (
        Column(name="window", kind=Kind.IDENTIFIER, meaning="what it is called", required=True),
        Column(
            name="sites",
            kind=Kind.TEXT,
            meaning="the sites it is open for, ; between them; blank: every site",
        ),
        Column(
            name="starts_on",
            kind=Kind.DATE,
            meaning="when it begins; blank: parts are taken to be there in time",
            may_lie_ahead=True,
        ),
        Column(
            name="crew_hours",
            kind=Kind.NUMBER,
            unit="h",
            minimum=0,
            maximum=1_000_000,
            required=True,
            meaning="hours that all its people have together",
        ),
        Column(
            name="people",
            kind=Kind.COUNT,
            minimum=1,
            maximum=10_000,
            meaning="people there at once; blank: as many as any job needs",
        ),
        Column(
            name="crane",
            kind=Kind.CHOICE,
            allowed=YES_NO,
            meaning="whether there is a crane; blank: yes",
        ),
    ),
)

PLAN = Table(
    "plan",
    "one job: all re-work at one unit in one window, in the order of the windows",
    "",
    (
        Column(name="order", kind=Kind.COUNT, minimum=1, meaning="place in the sequence"),
        Column(name="window", kind=Kind.IDENTIFIER, meaning="the shutdown; blank: not chosen"),
        Column(name="starts_on", kind=Kind.DATE, meaning="when the shutdown begins"),
        Column(name="unit_id", kind=Kind.IDENTIFIER, meaning="the unit"),
        Column(name="site", kind=Kind.TEXT, meaning="where it stands"),
        Column(name="line", kind=Kind.TEXT, meaning="conveyor line"),
        Column(name="verdict", kind=Kind.TEXT, meaning="what the rules say now"),
        Column(name="verdict_after", kind=Kind.TEXT, meaning="what they would say afterwards"),
        Column(name="actions", kind=Kind.SEVERAL, meaning="what to do, ; between actions"),
        Column(
            name="hours", kind=Kind.NUMBER, unit="h", meaning="hours of one person, set-ups once"
        ),
        Column(name="people", kind=Kind.COUNT, meaning="people at once"),
        Column(name="crane", kind=Kind.CHOICE, allowed=YES_NO, meaning="whether a crane is needed"),
        Column(
            name="line_stops", kind=Kind.CHOICE, allowed=YES_NO, meaning="whether the line stops"
        ),
        Column(name="lead_days", kind=Kind.COUNT, unit="d", meaning="how long parts take to come"),
        Column(name="cost", kind=Kind.NUMBER, unit="currency", meaning="parts, hire and labour"),
        Column(
            name="expected_loss",
            kind=Kind.NUMBER,
            unit="currency",
            meaning="expected loss within the horizon as the unit stands",
        ),
        Column(
            name="expected_loss_after",
            kind=Kind.NUMBER,
            unit="currency",
            meaning="expected loss afterwards, averaged over whether the re-work succeeds",
        ),
        Column(
            name="loss_avoided",
            kind=Kind.NUMBER,
            unit="currency",
            minimum=0,
            meaning="expected loss that it takes away, a cure credited what it cures; nothing at a "
            "unit that stays on hold",
        ),
        Column(name="currency", kind=Kind.TEXT, meaning="ISO 4217 code"),
        Column(name="why", kind=Kind.TEXT, meaning="why it is in the plan, or why it is not"),
    ),
)
"""What comes out; the candidates that were weighed are listed in the same columns."""
