"""Answers: each kept at once, none overwritten unseen, every change in the history."""

import json

import pytest
from at_the_machine import begin, give
from sqlalchemy import select

from scoring.contract import CHECKS
from scoring.contract.not_seen import NOT_SEEN_REASONS
from scoring.contract.quantities import alternative_names, ambiguous_names
from scoring.entering.answers import (
    ABOUT_THE_FORM,
    ABOUT_THE_VISIT,
    LONGEST_VALUE,
    Answer,
    answers_of,
    cells_of,
    check_answer,
    reasons_of,
)
from scoring.entering.drafts import find_draft
from scoring.entering.refusals import RefusedError
from scoring.store.schema import HISTORY
from scoring.store.store_errors import StoreError

FIELDS = (*(check.name for check in CHECKS), *ABOUT_THE_VISIT, *ABOUT_THE_FORM)
OTHER_HEADINGS = [(c.name, other) for c in CHECKS for other in alternative_names(c.name)]


def test_every_field_is_kept_as_typed_and_stands_under_its_heading(store):
    draft_id = begin(store)
    for field in FIELDS:
        give(store, draft_id, field, f"{field}, as typed")
    with store.reading() as connection:
        kept = answers_of(connection, draft_id)
    assert set(kept) == set(FIELDS)
    assert all(kept[field].answer.value == f"{field}, as typed" for field in FIELDS)
    assert set(cells_of(kept)) == set(FIELDS) - set(ABOUT_THE_FORM)


@pytest.mark.parametrize(("field", "heading"), OTHER_HEADINGS)
def test_a_quantity_may_be_typed_in_each_of_its_units(field, heading):
    check_answer(Answer(field, heading, "1/16"))


@pytest.mark.parametrize(
    ("field", "heading"),
    [
        ("nonsense", "nonsense"),
        ("walkdown_id", "walkdown_id"),
        ("unit_id", "unit_id"),
        ("recorded_at", "recorded_at"),
        ("guard", "breather"),
        ("guard", ""),
        ("kind", "kind_in"),
        ("collar_gap_mm", "collar_gap_furlong"),
        ("", ""),
        *((c.name, other) for c in CHECKS for other in ambiguous_names(c.name)),
    ],
)
def test_what_is_not_asked_is_refused_in_words(field, heading):
    with pytest.raises(RefusedError, match="is not asked") as refused:
        check_answer(Answer(field, heading, "1"))
    assert refused.value.faults[0].field == field


@pytest.mark.parametrize("reason", NOT_SEEN_REASONS)
def test_a_check_may_be_not_seen_for_each_reason(store, reason):
    draft_id = begin(store)
    give(store, draft_id, "guard", "", reason=reason)
    with store.reading() as connection:
        kept = answers_of(connection, draft_id)
    assert reasons_of(kept) == {"guard": reason}
    assert cells_of(kept) == {}


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        (Answer("guard", "guard", "", "too lazy"), "one of guard_on, running, no_access"),
        (Answer("kind", "kind", "", "no_access"), "not seen because of"),
        (Answer("guard", "guard", "fitted", "guard_on"), "never both"),
        (Answer("notes", "notes", "x" * (LONGEST_VALUE + 1)), "longer than 2000 characters"),
        (Answer("notes", "notes", "a\0b"), "NUL"),
        (Answer("notes", "notes", "half of an emoji: \ud83d"), "no whole character"),
    ],
)
def test_an_answer_that_cannot_be_is_refused_in_words(answer, words):
    with pytest.raises(RefusedError, match=words):
        check_answer(answer)


@pytest.mark.parametrize(
    "value",
    ["=1+1", "Müller’s Brecher 🪨", "line\nbreak\ttab", "'; DROP TABLE units; --", "1,5", " "],
)
def test_hostile_text_is_kept_to_the_letter(store, value):
    draft_id = begin(store)
    give(store, draft_id, "notes", value)
    with store.reading() as connection:
        assert answers_of(connection, draft_id)["notes"].answer.value == value


@pytest.mark.parametrize("client", ["x" * 101, "a\0b", "\ud83d"])
def test_a_window_is_named_in_few_whole_characters(sqlite_store, client):
    draft_id = begin(sqlite_store)
    with pytest.raises(StoreError, match="window"):
        give(sqlite_store, draft_id, "guard", "fitted", client=client)


@pytest.mark.parametrize("name", ["", "   ", "x" * 101, "a\0b", "\ud83d"])
def test_a_change_needs_the_name_of_who_makes_it(store, name):
    draft_id = begin(store)
    with pytest.raises(StoreError, match="needs the name"):
        give(store, draft_id, "guard", "fitted", by=name)


def test_of_two_windows_neither_overwrites_the_other_unseen(store):
    draft_id = begin(store)
    first = give(store, draft_id, "guard", "fitted", client="window 1", by="Ben Meier")
    second = give(store, draft_id, "guard", "missing", client="window 2", by="Cleo Roth")
    assert not first.refused
    assert second.refused
    assert second.answer.answer.value == "fitted"
    assert (second.answer.by, second.answer.revision) == ("Ben Meier", 1)
    seen = give(store, draft_id, "guard", "missing", base=1, client="window 2", by="Cleo Roth")
    assert not seen.refused
    assert seen.answer.revision == 2
    late = give(store, draft_id, "guard", "fitted", base=1, client="window 1", by="Ben Meier")
    assert late.refused
    assert late.answer.answer.value == "missing"


def test_an_answer_sent_again_changes_nothing(store):
    draft_id = begin(store)
    for _ in range(3):
        again = give(store, draft_id, "guard", "fitted")
        assert (again.refused, again.answer.revision) == (False, 1)
    other_window = give(store, draft_id, "guard", "fitted", client="window 2")
    assert (other_window.refused, other_window.answer.revision) == (False, 1)
    assert len(_history(store, draft_id)) == 1


def test_the_same_window_goes_on_without_having_heard(store):
    draft_id = begin(store)
    give(store, draft_id, "guard", "fitted")
    assert give(store, draft_id, "guard", "missing").answer.revision == 2


def test_an_answer_may_be_taken_back(store):
    draft_id = begin(store)
    give(store, draft_id, "guard", "fitted")
    give(store, draft_id, "guard", "", base=1)
    with store.reading() as connection:
        assert cells_of(answers_of(connection, draft_id)) == {}


def test_the_history_holds_every_change_in_order_with_before_and_after_and_who(store):
    draft_id = begin(store)
    give(store, draft_id, "guard", "fitted", by="Ben Meier")
    give(store, draft_id, "guard", "missing", base=1, client="window 2", by="Cleo Roth")
    give(store, draft_id, "guard", "loose", base=1, client="window 3", by="Not Taken")
    give(
        store, draft_id, "guard", "", base=2, client="window 2", reason="no_access", by="Cleo Roth"
    )
    told = [
        (row.actor, row.change, row.version, row.before and json.loads(row.before)["value"],
         json.loads(row.after)["value"], json.loads(row.after)["reason"])
        for row in _history(store, draft_id)
    ]  # fmt: skip
    assert told == [
        ("Ben Meier", "added", 1, None, "fitted", ""),
        ("Cleo Roth", "changed", 2, "fitted", "missing", ""),
        ("Cleo Roth", "changed", 3, "missing", "", "no_access"),
    ]


def test_an_answer_says_when_the_draft_changed_last(store):
    draft_id = begin(store)
    kept = give(store, draft_id, "guard", "fitted")
    with store.reading() as connection:
        assert find_draft(connection, draft_id).changed_at == kept.answer.at


def _history(store, draft_id, field="guard"):
    query = select(HISTORY).where(
        HISTORY.c.about == "draft_answers", HISTORY.c.key == f"{draft_id}/{field}"
    )
    with store.reading() as connection:
        return connection.execute(query.order_by(HISTORY.c.history_id)).all()
