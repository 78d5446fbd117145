"""Read a plant's own records by a reading plan: the one place that knows how the tool is asked.

The fleets, their answers and the tests know nothing of it.
"""

import re
from collections.abc import Iterable, Mapping
from pathlib import Path

import pandas as pd
from click.testing import CliRunner
from messy_fleet import Answer, Month, Tables

from scoring.cli.main import cli
from scoring.contract import TABLE_BY_NAME
from scoring.contract.rework import ACTION_BY_NAME
from scoring.files.planned_records import read_plan
from scoring.reading_plan import Plan, open_questions
from scoring.store.find_fleet import BETWEEN_PLANTS, find_fleet

ORDERS = {"day first": "day month year", "month first": "month day year"}
UNITS = {
    "mm": "mm", "in": "in", "nm": "N·m", "kw": "kW", "hp": "hp", "c": "°C", "f": "°F",
    "lbft": "lbf·ft", "lbin": "lbf·in", "kg": "kg", "lb": "lb", "n": "N", "lbf": "lbf",
}  # fmt: skip
MEASURES = {"length": "unit_mm", "torque": "unit_nm", "power": "unit_kw", "temperature": "unit_c"}


def read_by_plan(month: Month, answers: tuple[Answer, ...], plan: Path) -> Tables:
    """Read the sources of a month by a plan.

    Parameters
    ----------
    month : Month
        Only ``sources`` may be looked at.
    answers : tuple of Answer
        What a person tells, each put where the tool asks for it; what it does not ask is not told.
        None in the second month.
    plan : Path
        The file of the plan. In the first month it is not there: it is proposed, completed by the
        answers and kept here. In the second month it is used as it lies here.

    Returns
    -------
    Tables
        The contract's tables, as the tool read them.
    """
    kept = plan.with_suffix(".toml")
    places = _places(month)
    if not kept.exists():
        asked = _queries(month)
        call("reading-plan", *places, *asked, "--out", kept)
        given: dict[str, str] = {}
        for _ in range(3):  # what a heading stands for is told before its words are asked for
            proposed = read_plan(kept)
            given |= {key: said for one in answers for key, said in keys_of(one, proposed)}
            told = [f"--answer={key}={said}" for key, said in given.items()]
            call("reading-plan", *places, *asked, "--out", kept, *told)
    tables = find_fleet(BETWEEN_PLANTS.join(places), plan=kept).tables
    return {
        name: pd.DataFrame({h: table.column(h) for h in table.headings})
        for name, table in tables.items()
    }


def call(*given: object) -> None:
    result = CliRunner().invoke(cli, [str(one) for one in given])
    assert result.exit_code == 0, f"{result.output}{result.exception}"


def _places(month: Month) -> list[str]:
    if any(source.query for source in month.sources):
        return [f"sqlite:///{month.sources[0].path}"]
    folders: dict[str, str] = {}
    for source in month.sources:
        together = sum(1 for one in month.sources if one.path.parent == source.path.parent)
        place = source.path.parent if together > 1 else source.path
        folders[str(place)] = source.plant
    return [f"{plant}={place}" if plant else place for place, plant in folders.items()]


def _queries(month: Month) -> list[str]:
    return [
        f"--query=query {number}={source.query}"
        for number, source in enumerate(month.sources, 1)
        if source.query
    ]


def keys_of(one: Answer, plan: Plan) -> Iterable[tuple[str, str]]:  # noqa: PLR0911 - by kind
    """Return which questions of the tool an answer is about."""
    open_ones = {question.key: question for question in open_questions(plan)}
    headings = [c.heading for table in plan.tables for c in table.columns]
    if one.about == "dates":
        return [(key, ORDERS[one.says]) for key in open_ones if key.startswith("dates")]
    if one.about == "unit":
        measure = MEASURES.get(one.subject, "")
        asked = [key for key in open_ones if key == measure]
        if not measure:
            asked = [f"unit.{one.subject}"] * (one.subject in headings)
        return [(key, UNITS[one.says]) for key in asked]
    if one.about == "column":
        return [(f"column.{one.subject}", one.says)] * (one.subject in headings)
    if one.about == "yes":
        column, _, word = one.says.partition("=")
        return [(f"walkdowns.{column}.yes", word)] * (f"walkdowns.{column}.yes" in open_ones)
    if one.about == "word":
        return _of_word(one, plan, open_ones)
    if one.about == "table":
        return [(f"feeds.{one.subject}", one.says)]
    if one.about == "every row":
        table = next(
            t for t in ("units", "walkdowns") if one.subject in TABLE_BY_NAME[t].column_by_name
        )
        return [(f"{table}.{one.subject}", one.says)]
    raise AssertionError(one)


def _of_word(one: Answer, plan: Plan, open_ones: Mapping[str, object]) -> list[tuple[str, str]]:
    exact = [key for key in open_ones if key.endswith(f".{one.subject}")]
    if exact:
        return [(key, one.says) for key in exact if _has(key, one.says)]
    found = []
    for table in plan.tables:
        for column in table.columns:
            for word in column.words:
                if _same(word, one.subject) and column.fills:
                    key = f"{column.fills[0]}.{word}"
                    if _has(key, one.says):
                        found.append((key, one.says))
    return found


def _same(word: str, subject: str) -> bool:
    return re.sub(r"\s+", " ", word).strip().lower() == subject.lower()


def _has(key: str, word: str) -> bool:
    table, _, rest = key.partition(".")
    column = TABLE_BY_NAME[table].column_by_name.get(rest.partition(".")[0])
    return column is not None and (word in column.allowed or word in ACTION_BY_NAME)
