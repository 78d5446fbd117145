"""Which questions of a plan are open, and what their answers make of it."""

from collections.abc import Mapping
from dataclasses import replace

from scoring.errors import FixableError
from scoring.reading_plan.corrections import corrected_plan
from scoring.reading_plan.what_a_plan_says import (
    ASIDE,
    OPEN,
    OTHER,
    SURE,
    Plan,
    PlannedColumn,
    PlannedTable,
    Question,
)


def open_questions(plan: Plan) -> tuple[Question, ...]:
    """Return the questions that something in the plan still waits for.

    Raises
    ------
    FixableError
        If something waits for a question that the plan does not hold.
    """
    waiting = {key: None for table in plan.tables for key in _waits_of(table)}
    known = {question.key: question for question in plan.questions}
    lost = [key for key in waiting if key not in known]
    if lost:
        raise FixableError(
            f"the plan waits for {OPEN}{lost[0]}, and has no [[question]] of that key; write the "
            "value itself"
        )
    return tuple(question for question in plan.questions if question.key in waiting)


def answer(plan: Plan, answers: Mapping[str, str]) -> Plan:
    """Return the plan with some of its questions answered.

    Raises
    ------
    FixableError
        If there is no such question, or the answer is none of its choices.

    Examples
    --------
    >>> asked = Question("dates", "March or July?", ("day month year", "month day year"))
    >>> plan = Plan((PlannedTable(("a.csv",), ("units",), dates="?dates"),), (asked,))
    >>> answer(plan, {"dates": "day month year"}).tables[0].dates
    'day month year'
    """
    known = {question.key: question for question in plan.questions}
    values: dict[str, str] = {}
    for key, given in answers.items():
        if key in known:
            values |= _values(known[key], given)
            continue
        corrected = corrected_plan(plan, key, given)
        if corrected is None:
            there = ", ".join(q.key for q in open_questions(plan)) or "none"
            raise FixableError(
                f"the plan has no question, heading, column or sheet {key!r}; open are: {there}"
            )
        plan = corrected
    waited = {key for table in plan.tables for key in _waits_of(table)}
    questions = tuple(
        replace(q, answer=answers.get(q.key, q.answer))
        for q in plan.questions
        if q.key in waited or q.answer or q.key in answers
    )
    tables = tuple(_with_named(_answered_table(table, values)) for table in plan.tables)
    return replace(plan, tables=tables, questions=questions)


def answers_written(plan: Plan) -> Plan:
    """Return the plan with the answers that stand in it put in their places."""
    return answer(plan, {q.key: q.answer for q in plan.questions if q.answer})


def _values(question: Question, given: str) -> dict[str, str]:
    if given not in question.choices and not question.free:
        raise FixableError(
            f"{question.key}: {given!r} is none of the choices; {question.asks} One of: "
            + "; ".join(question.choices)
        )
    others = [choice for choice in question.choices if choice != given]
    return {OPEN + question.key: given, OTHER + question.key: others[0] if others else given}


def _waits_of(table: PlannedTable) -> list[str]:
    texts = [table.dates, table.decimal, table.thousands, *table.feeds, *table.fixed.values()]
    for column in table.columns:
        texts += [column.unit, column.dates, column.means, *column.fills, *column.words.values()]
    return [t.removeprefix(OTHER).removeprefix(OPEN) for t in texts if t.startswith(OPEN)]


def _answered_table(table: PlannedTable, values: Mapping[str, str]) -> PlannedTable:
    return replace(
        table,
        dates=values.get(table.dates, table.dates),
        decimal=values.get(table.decimal, table.decimal),
        thousands=values.get(table.thousands, table.thousands),
        feeds=_several(table.feeds, values),
        fixed=_without_aside({k: values.get(v, v) for k, v in table.fixed.items()}),
        columns=tuple(_answered_column(column, values) for column in table.columns),
    )


def _with_named(table: PlannedTable) -> PlannedTable:
    """Let a column fill what was answered with its heading, as ``{Works}``."""
    named = {"{" + column.heading + "}": column.heading for column in table.columns}
    for key, value in table.fixed.items():
        if value not in named:
            continue
        name = key.partition(".")[2]
        fills = tuple(f"{t}.{name}" for t in table.feeds) if name == "unit_id" else (key,)
        columns = tuple(
            replace(c, fills=(*c.fills, *fills), because="told so", certainty=SURE)
            if c.heading == named[value]
            else c
            for c in table.columns
        )
        fixed = {k: v for k, v in table.fixed.items() if k != key}
        table = replace(table, columns=columns, fixed=fixed)
    return table


def _answered_column(column: PlannedColumn, values: Mapping[str, str]) -> PlannedColumn:
    return replace(
        column,
        fills=_several(column.fills, values),
        means=values.get(column.means, column.means),
        unit=values.get(column.unit, column.unit),
        dates=values.get(column.dates, column.dates),
        words={found: values.get(word, word) for found, word in column.words.items()},
    )


def _several(given: tuple[str, ...], values: Mapping[str, str]) -> tuple[str, ...]:
    put = (values.get(one, one) for one in given)
    return tuple(part.strip() for one in put if one != ASIDE for part in one.split(" and "))


def _without_aside(fixed: dict[str, str]) -> dict[str, str]:
    return {name: value for name, value in fixed.items() if value != ASIDE}
