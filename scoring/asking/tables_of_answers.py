"""The tables of answers beside ranking and plan: a what-if, a route, looks, faults."""

from scoring.contract.declaration import Column, Kind, Table
from scoring.contract.events import MODE_WORDS
from scoring.contract.windows import PLAN

_AT = {column.name: column for column in PLAN.columns}
_UNIT, _SITE, _LINE, _CURRENCY = (_AT[name] for name in ("unit_id", "site", "line", "currency"))


def _chances(mode: str, what: str) -> tuple[Column, ...]:
    return tuple(
        Column(name=f"p_{mode}{end}{when}", kind=Kind.NUMBER, minimum=0, maximum=1, meaning=meaning)
        for end, of in (
            ("", ""),
            ("_low", ": lower end of its 90 % interval"),
            ("_high", ": upper end of its 90 % interval"),
        )
        for when, then in (("", "as the unit stands"), ("_after", "afterwards"))
        for meaning in (f"chance of the first {what} within the horizon, {then}{of}",)
    )


WHAT_IF = Table(
    "what_if",
    "one question: what re-work at a unit, or another finding, would change",
    "",
    (
        _UNIT,
        _SITE,
        _LINE,
        _AT["actions"],
        *(column for mode, words in MODE_WORDS.items() for column in _chances(mode, words)),
        _AT["verdict"],
        _AT["verdict_after"],
        Column(
            name="clears_hold",
            kind=Kind.CHOICE,
            allowed=("False", "True"),
            meaning="whether the unit must not run now, and could run afterwards",
        ),
        _AT["expected_loss"],
        _AT["expected_loss_after"],
        Column(
            name="loss_after_credited",
            kind=Kind.NUMBER,
            unit="currency",
            meaning="expected loss afterwards, a cure credited what it cures and no more",
        ),
        Column(
            name="standing_loss",
            kind=Kind.NUMBER,
            unit="currency",
            meaning="what a unit on hold costs while it stands still; 0 where that is not said",
        ),
        _AT["loss_avoided"],
        _CURRENCY,
        _AT["hours"],
        _AT["people"],
        Column(
            name="crane",
            kind=Kind.CHOICE,
            allowed=("False", "True"),
            meaning="whether a crane is needed",
        ),
        Column(
            name="line_stops",
            kind=Kind.CHOICE,
            allowed=("False", "True"),
            meaning="whether the line stops",
        ),
        _AT["lead_days"],
        _AT["cost"],
    ),
)

_CHANCE_OF_FINDING, _CHANCE_OF_HOLD = (
    Column(name=f"chance_of_{what}", kind=Kind.NUMBER, minimum=0, maximum=1, meaning=meaning)
    for what, meaning in (
        ("finding", "chance that it is not good"),
        ("hold", "chance that the unit must not run"),
    )
)
_MINUTES, _VALUE = (
    Column(name="minutes", kind=Kind.NUMBER, unit="min", meaning="minutes of the inspector"),
    Column(
        name="value",
        kind=Kind.NUMBER,
        unit="currency",
        meaning="expected loss avoided by re-work chosen with what is seen, above what is avoided "
        "without looking, each less its cost",
    ),
)

ROUTE = Table(
    "route",
    "one visit, as one walks past the units",
    "unit_id",
    (
        Column(name="order", kind=Kind.COUNT, minimum=1, meaning="place in the walk"),
        _UNIT,
        _SITE,
        _LINE,
        Column(name="checks", kind=Kind.TEXT, meaning="what to look at, ; between checks"),
        _MINUTES,
        _VALUE,
        _CURRENCY,
        _CHANCE_OF_FINDING,
        _CHANCE_OF_HOLD,
        Column(name="why", kind=Kind.TEXT, meaning="why to look, check by check"),
    ),
)

LOOKS = Table(
    "looks",
    "one look that can be taken, by itself, the best first",
    "",
    (
        _UNIT,
        _SITE,
        _LINE,
        Column(name="check", kind=Kind.TEXT, meaning="what to look at"),
        Column(
            name="shows",
            kind=Kind.TEXT,
            meaning="what it shows; of checks that show the same one need be seen",
        ),
        Column(name="why", kind=Kind.TEXT, meaning="why to look"),
        _CHANCE_OF_FINDING,
        _CHANCE_OF_HOLD,
        Column(
            name="saved_without",
            kind=Kind.NUMBER,
            unit="currency",
            meaning="what the best re-work chosen without looking avoids, less its cost",
        ),
        Column(
            name="saved_by_looking",
            kind=Kind.NUMBER,
            unit="currency",
            meaning="what the best re-work chosen with what is seen avoids, less its cost",
        ),
        _VALUE,
        _CURRENCY,
        _MINUTES,
        Column(
            name="visit_minutes",
            kind=Kind.NUMBER,
            unit="min",
            meaning="minutes that the visit takes once: walking, and lock-out unless the unit runs",
        ),
        Column(
            name="guard_minutes",
            kind=Kind.NUMBER,
            unit="min",
            meaning="minutes once more where a check lies behind the guard",
        ),
    ),
)

FAULTS = Table(
    "faults",
    "one fault of the records",
    "",
    (
        Column(name="table", kind=Kind.TEXT, meaning="the table"),
        Column(name="source", kind=Kind.TEXT, meaning="the file, sheet, store or DataFrame"),
        Column(
            name="row",
            kind=Kind.COUNT,
            minimum=1,
            meaning="row as a spreadsheet counts it, 1: the headings; of a DataFrame index_label "
            "stands in its place, empty for the headings",
        ),
        Column(
            name="column",
            kind=Kind.TEXT,
            meaning="the heading as given; empty where the whole row is meant",
        ),
        Column(name="value", kind=Kind.TEXT, meaning="what was given"),
        Column(name="wrong", kind=Kind.TEXT, meaning="what is wrong with it"),
        Column(name="right", kind=Kind.TEXT, meaning="what would be right"),
    ),
)

ANSWERS = (WHAT_IF, ROUTE, LOOKS, FAULTS)
