"""A plan is written, read, answered, edited; what is wrong in it is told in words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import FixableError
from scoring.reading_plan import (
    Plan,
    PlannedColumn,
    PlannedTable,
    Question,
    answer,
    open_questions,
    plan_as_toml,
    plan_from_toml,
)

# A word of a person, not one that waits for a question.
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=20).filter(lambda t: t[:1] != "?")
WORDS = st.dictionaries(TEXT, TEXT, max_size=3)
COLUMN = st.builds(
    PlannedColumn,
    heading=TEXT,
    fills=st.just(("units.site",)),
    unit=TEXT,
    words=WORDS,
    because=TEXT,
)
TABLE = st.builds(
    PlannedTable,
    sources=st.tuples(TEXT),
    feeds=st.just(("units",)),
    heading_row=st.integers(1, 60),
    no_record_begins_with=st.tuples(TEXT),
    delimiter=TEXT,
    fixed=WORDS,
    columns=st.lists(COLUMN, max_size=2).map(tuple),
)


@given(tables=st.lists(TABLE, max_size=2).map(tuple), languages=st.just(("german",)))
def test_what_is_written_is_read(tables, languages):
    plan = Plan(tables, languages=languages)
    assert plan_from_toml(plan_as_toml(plan), "plan") == plan


WAITING = Plan(
    (
        PlannedTable(
            ("a.csv",),
            ("walkdowns",),
            columns=(
                PlannedColumn(
                    "Vent",
                    ("walkdowns.breather",),
                    words={"y": "?walkdowns.breather.yes", "n": "?!walkdowns.breather.yes"},
                ),
            ),
        ),
    ),
    (Question("walkdowns.breather.yes", "What does yes mean?", ("open", "plugged")),),
)


def test_one_answer_settles_yes_and_no():
    done = answer(WAITING, {"walkdowns.breather.yes": "plugged"})
    assert done.tables[0].columns[0].words == {"y": "plugged", "n": "open"}
    assert open_questions(done) == ()


def test_an_answer_written_into_the_file_counts():
    text = plan_as_toml(WAITING).replace('answer = ""', 'answer = "open"')
    read = plan_from_toml(text, "plan")
    assert read.tables[0].columns[0].words == {"y": "open", "n": "plugged"}


def test_a_value_written_in_the_place_of_a_question_counts():
    text = plan_as_toml(WAITING)
    text = text.replace("?walkdowns.breather.yes", "open").replace("?!walkdowns.breather.yes", "")
    assert open_questions(plan_from_toml(text, "plan")) == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("languages = [", "no readable plan"),
        ("colour = 1", "a plan has no 'colour'"),
        ("[table]\nfeeds = []", "double brackets"),
        ("[[table]]\nfeeds = ['units']", "lacks sources"),
        ("[[table]]\nsources = 'a'\nfeeds = []", "sources = 'a' is not a list"),
        ("[[table]]\nsources = ['a']\nfeeds = []\nheading_row = '1'", "not a whole number"),
        ("[[table]]\nsources = ['a']\nfeeds = []\ndates = '?when'", "waits for ?when"),
        (
            "[[question]]\nkey = 'k'\nasks = ''\nchoices = ['a']\nanswer = 'b'",
            "none of the choices",
        ),
    ],
)
def test_what_is_wrong_in_a_plan_is_told(text, said):
    with pytest.raises(FixableError) as told:
        open_questions(plan_from_toml(text, "plan.toml"))
    assert said in str(told.value)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"when": "now"}, "no question, heading, column or sheet 'when'"),
        ({"walkdowns.breather.yes": "shut"}, "none of the choices"),
        ({"column.Vent": "units.colour"}, "no column of ours"),
    ],
)
def test_an_answer_that_answers_nothing_is_told(given, said):
    with pytest.raises(FixableError) as told:
        answer(WAITING, given)
    assert said in str(told.value)
