"""A clean table written with other headings, words, units, marks and order reads back the same."""

import random
from functools import cache

import numpy as np
import pandas as pd
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from scoring.contract import TABLE_BY_NAME, Kind
from scoring.contract.quantities import contract_suffix
from scoring.contract.words_of_languages import LANGUAGES, language_words
from scoring.intake import check_fleet
from scoring.reading_plan import (
    Grid,
    answer,
    open_questions,
    plan_as_toml,
    plan_from_toml,
    propose,
    read_by_plan,
)
from scoring.reading_plan.heading_matches import matches_of
from scoring.reading_plan.words_meant import meaning_of
from scoring.store.find_fleet import find_fleet

TODAY = pd.Timestamp("2026-11-28")
MM_TO = {"mm": 1.0, "cm": 0.1, "in": 1 / 25.4}
ORDERS = {"day month year": "%d/%m/%Y", "month day year": "%m/%d/%Y"}


@cache
def clean(name):
    raw = find_fleet("demo:small_quarry").tables[name]
    rows = pd.DataFrame({h: raw.column(h) for h in raw.headings})
    return rows.head(25)


def own_headings(column, language):
    """Return how a language heads a column and no other."""
    found = []
    for text in language_words(language).columns.get(column.name, ()):
        best = matches_of(text)
        exact = {m.target for m in best if m.score == best[0].score}
        if len(exact) == 1 and best[0].target.column == column.name:
            found.append(text.title())
    return found


def own_words(column, language):
    """Return for each word of a column how a language says it, where that is clear."""
    said = {}
    for word in column.allowed:
        texts = [
            text
            for text in language_words(language).words.get(word, ())
            if meaning_of(text, column).word == word
        ]
        said[word] = texts or [word]
    return said


def in_order(text, order):
    if not text:
        return ""
    time = " %H:%M" if len(text) > len("2026-03-31") else ""
    return pd.Timestamp(text).strftime(order + time)


def written(rows, name, draw):
    """Write rows as a plant would; return the grid."""
    table, columns, out = TABLE_BY_NAME[name], list(rows.columns), {}
    draw["rng"].shuffle(columns)
    for column_name in columns:
        column = table.column_by_name[column_name]
        ways = own_headings(column, draw["language"]) or [column_name]
        heading, cells = draw["rng"].choice(ways), rows[column_name]
        if column.kind is Kind.CHOICE:
            said = {
                w: draw["rng"].choice(t) for w, t in own_words(column, draw["language"]).items()
            }
            cells = cells.map(lambda text, said=said: said.get(text, text))
        elif column.kind is Kind.DATE:
            order = ORDERS[draw["order"]]
            cells = cells.map(lambda text, o=order: in_order(text, o))
        elif column.is_numeric:
            factor, unit = 1.0, ""
            if contract_suffix(column_name) == "_mm":
                unit = draw["unit"]
                factor, heading = MM_TO[unit], f"{heading} [{unit}]"
            cells = cells.map(lambda text, f=factor: repr(float(text) * f) if text else "")
            if draw["decimal"] == ",":
                cells = cells.str.replace(".", ",")
        if heading not in out:
            out[heading] = cells
    frame = pd.DataFrame(out)
    above = [["Some works"]] * draw["notes"]
    below = [["Total", str(len(frame))]] * draw["totals"]
    lines = [*above, list(frame.columns), *frame.to_numpy().tolist(), *below]
    return Grid.from_rows(f"{name}.csv", "", lines, encoding="utf-8", delimiter=";")


@cache
def true_tables():
    tables = find_fleet("demo:small_quarry").tables
    return tables, check_fleet(tables, TODAY).fleet


@pytest.mark.parametrize("name", ["units", "walkdowns"])
@settings(max_examples=8, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(
    language=st.sampled_from(LANGUAGES),
    order=st.sampled_from(sorted(ORDERS)),
    decimal=st.sampled_from([",", "."]),
    unit=st.sampled_from(sorted(MM_TO)),
    notes=st.integers(0, 3),
    totals=st.integers(0, 1),
    seed=st.integers(0, 2**16),
)
def test_it_comes_back_value_for_value(name, seed, **draw):
    rows = clean(name)
    grid = written(rows, name, {**draw, "rng": random.Random(seed)})  # noqa: S311 - no secret
    plan = propose([grid])
    told = {}
    for question in open_questions(plan):
        # Only what the cells cannot tell may be asked: the order of days, the mark of numbers,
        # and, where lengths are in inches, the unit of what does not say its own.
        assert question.key in {"dates", "decimal"} or draw["unit"] == "in", question
        own = {"dates": draw["order"], "decimal": draw["decimal"]}
        told[question.key] = own.get(question.key, question.choices[0])
    plan = plan_from_toml(plan_as_toml(answer(plan, told)), "plan")
    read = read_by_plan(plan, [grid]).tables
    other, fleet = true_tables()
    checked = check_fleet(
        {"units": other["units"], "walkdowns": read["walkdowns"]}
        if name == "walkdowns"
        else {"units": read["units"]},
        TODAY,
    )
    assert checked.faults.empty, checked.faults.to_string()
    said = checked.fleet.table(name)
    kept = [
        c for c in rows.columns if any(f"{name}.{c}" in p.fills for p in plan.tables[0].columns)
    ]
    assert len(kept) >= len(rows.columns) - 2
    true = fleet.table(name)
    key = TABLE_BY_NAME[name].key
    true = true[true[key].isin(rows[key])].set_index(key).sort_index()
    said = said.set_index(key).sort_index()
    assert list(said.index) == list(true.index)
    for column in kept:
        if column == key:
            continue
        if TABLE_BY_NAME[name][column].is_numeric:
            np.testing.assert_allclose(said[column], true[column], rtol=1e-9)
        else:
            pd.testing.assert_series_equal(said[column], true[column])
