"""Drafts: begun, given up, corrected; once closed, nothing is written in them any more."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from at_the_machine import answer_visit, begin, give, today
from kept_sign_offs import sign_offs_of_unit
from sqlalchemy import select

from scoring.entering.answers import answers_of
from scoring.entering.drafts import (
    discard_draft,
    find_draft,
    find_open_draft,
    open_drafts,
    version_submitted,
    writers_of,
)
from scoring.entering.refusals import ClosedDraftError, RefusedError
from scoring.entering.sign_offs import not_seen_of
from scoring.entering.start_correction import start_correction
from scoring.entering.submit_draft import submit_draft
from scoring.store.put_records import withdraw_record
from scoring.store.schema import HISTORY
from scoring.store.store_errors import ChangedMeanwhileError, UnknownRecordError
from scoring.store.versions import find_record, versions_of


def changes_of(store, draft_id):
    query = select(HISTORY.c.actor, HISTORY.c.change).where(
        HISTORY.c.about == "drafts", HISTORY.c.key == draft_id
    )
    with store.reading() as connection:
        return [tuple(row) for row in connection.execute(query.order_by(HISTORY.c.history_id))]


def correct(store, walkdown_id, by="Cleo Roth"):
    with store.writing(by) as writing:
        return start_correction(writing, walkdown_id)


def submitted(store, unit, **more):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, **more)
    return submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")


def test_a_draft_that_was_begun_is_offered_until_it_is_given_up(store, unit):
    draft_id = begin(store, unit)
    with store.reading() as connection:
        (offered,) = open_drafts(connection, unit)
        assert offered == find_open_draft(connection, draft_id)
        assert (offered.unit_id, offered.started_by) == (unit, "Ben Meier")
        assert offered in open_drafts(connection)
    with store.writing("Cleo Roth") as writing:
        discard_draft(writing, draft_id)
    with store.reading() as connection:
        assert open_drafts(connection, unit) == []
        assert find_draft(connection, draft_id).status == "discarded"
    assert changes_of(store, draft_id) == [("Ben Meier", "started"), ("Cleo Roth", "discarded")]


def test_a_draft_that_was_given_up_takes_nothing_any_more(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)
    with store.writing("Ben Meier") as writing:
        discard_draft(writing, draft_id)
    with pytest.raises(ClosedDraftError, match="discarded meanwhile; begin a new one"):
        give(store, draft_id, "guard", "fitted")
    with pytest.raises(ClosedDraftError, match="discarded"):
        submit_draft(store, draft_id, signed_by="Ben Meier")
    with pytest.raises(ClosedDraftError), store.writing("Ben Meier") as writing:
        discard_draft(writing, draft_id)


def test_a_draft_that_was_submitted_takes_nothing_any_more(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)
    submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    with pytest.raises(ClosedDraftError, match="correct it on the unit's page"):
        give(store, draft_id, "guard", "missing")
    with pytest.raises(ClosedDraftError), store.writing("Ben Meier") as writing:
        discard_draft(writing, draft_id)


@pytest.mark.parametrize("unit_id", ["", "SS-999", "ss-001", "' OR 1=1 --"])
def test_a_unit_that_is_not_there_is_said(store, unit_id):
    with pytest.raises(UnknownRecordError, match="ids are case-sensitive"):
        begin(store, unit_id)


def test_a_draft_that_is_not_there_is_said(store):
    with pytest.raises(UnknownRecordError, match="begin a new one"):
        give(store, "nobody-knows-it", "guard", "fitted")
    with pytest.raises(UnknownRecordError):
        submit_draft(store, "nobody-knows-it", signed_by="Ben Meier")


def test_nothing_that_was_not_begun_well_is_left_behind(store):
    with pytest.raises(UnknownRecordError):
        begin(store, "SS-999", by="Never Seen")
    with store.reading() as connection:
        assert connection.scalar(select(HISTORY).where(HISTORY.c.actor == "Never Seen")) is None


def test_who_has_answered_is_told(store, unit):
    draft_id = begin(store, unit)
    give(store, draft_id, "guard", "fitted", by="Cleo Roth")
    give(store, draft_id, "breather", "open", by="Ben Meier")
    with store.reading() as connection:
        assert writers_of(connection, draft_id) == ["Ben Meier", "Cleo Roth"]


def test_a_correction_begins_with_what_the_last_version_says(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, guard="fitted", notes="as found")
    give(store, draft_id, "smallest_clearance_mm", "1/2", heading="smallest_clearance_in")
    give(store, draft_id, "breather", "", reason="no_access")
    first = submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    correction = correct(store, first.walkdown_id)
    with store.reading() as connection:
        answers = answers_of(connection, correction)
        draft = find_draft(connection, correction)
    said = {field: kept.answer.value for field, kept in answers.items() if kept.answer.value}
    assert said.pop("machine_state", "stopped") == "stopped"
    assert said == {
        "kind": "periodic",
        "inspected_on": today(),
        "inspector": "Ben Meier",
        "notes": "as found",
        "guard": "fitted",
        "smallest_clearance_mm": "12.7",
    }
    assert answers["breather"].answer.reason == "no_access"
    assert (draft.corrects_version, draft.walkdown_id) == (1, first.walkdown_id)


def test_a_correction_needs_a_reason_and_makes_the_next_version(store, unit):
    first = submitted(store, unit, guard="fitted")
    correction = correct(store, first.walkdown_id)
    give(store, correction, "guard", "", reason="guard_on", base=1)
    with pytest.raises(RefusedError, match="why the walkdown") as refused:
        submit_draft(store, correction, signed_by="Cleo Roth", told="Foreman", reason="  ")
    assert [fault.field for fault in refused.value.faults] == ["reason"]
    second = submit_draft(
        store, correction, signed_by="Cleo Roth", told="Foreman", reason="looked at another unit"
    )
    assert (second.walkdown_id, second.version) == (first.walkdown_id, 2)
    with store.reading() as connection:
        versions = versions_of(connection, "walkdowns", first.walkdown_id)
        signed = sign_offs_of_unit(connection, unit)
        assert not_seen_of(connection, first.walkdown_id) == {"guard": "guard_on"}
    told = [(v.version, v.actor, v.reason, v.content.get("guard")) for v in versions]
    assert told == [
        (1, "Ben Meier", "entered and signed", "fitted"),
        (2, "Cleo Roth", "looked at another unit", None),
    ]
    assert [(one.version, one.signed_by) for one in signed] == [(2, "Cleo Roth"), (1, "Ben Meier")]


def test_a_correction_leaves_since_when_the_walkdown_is_known(store, unit):
    first = submitted(store, unit)
    with store.reading() as connection:
        known_since = find_record(connection, "walkdowns", first.walkdown_id).content["recorded_at"]
    correction = correct(store, first.walkdown_id)
    give(store, correction, "notes", "another")
    submit_draft(store, correction, signed_by="Cleo Roth", told="Foreman", reason="forgotten")
    with store.reading() as connection:
        content = find_record(connection, "walkdowns", first.walkdown_id).content
    assert (content["recorded_at"], content["notes"]) == (known_since, "another")


def test_of_two_corrections_of_one_version_only_the_first_counts(store, unit):
    first = submitted(store, unit)
    one, other = correct(store, first.walkdown_id), correct(store, first.walkdown_id, "Dora Hain")
    give(store, one, "notes", "one")
    give(store, other, "notes", "other")
    submit_draft(store, one, signed_by="Cleo Roth", told="Foreman", reason="forgotten")
    with pytest.raises(ChangedMeanwhileError, match="version 2 in the store, version 1 was read"):
        submit_draft(store, other, signed_by="Dora Hain", told="Foreman", reason="forgotten")
    with store.reading() as connection:
        assert find_record(connection, "walkdowns", first.walkdown_id).content["notes"] == "one"
        assert find_draft(connection, other).is_open


def test_a_walkdown_that_was_withdrawn_meanwhile_is_not_brought_back(store, unit):
    first = submitted(store, unit)
    correction = correct(store, first.walkdown_id)
    with store.writing("Dora Hain") as writing:
        withdraw_record(writing, "walkdowns", first.walkdown_id, "another unit")
    with pytest.raises(ChangedMeanwhileError):
        submit_draft(store, correction, signed_by="Cleo Roth", told="Foreman", reason="mended")
    with pytest.raises(UnknownRecordError):
        correct(store, first.walkdown_id)


def test_a_walkdown_signed_by_eight_at_once_is_kept_and_signed_once(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)
    with ThreadPoolExecutor(8) as pool:
        done = list(
            pool.map(
                lambda _: submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman"),
                range(8),
            )
        )
    assert len({(one.walkdown_id, one.version, one.verdict.verdict) for one in done}) == 1
    with store.reading() as connection:
        assert len(versions_of(connection, "walkdowns", done[0].walkdown_id)) == 1
        assert len(sign_offs_of_unit(connection, unit)) == 1
        assert version_submitted(connection, draft_id) == 1
    assert [change for _, change in changes_of(store, draft_id)] == ["started", "submitted"]


def test_who_signs_after_another_is_told_so(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)
    submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    with pytest.raises(ClosedDraftError, match="Ben Meier has signed this walkdown meanwhile"):
        submit_draft(store, draft_id, signed_by="Cleo Roth", told="Foreman")


def test_a_signature_sent_again_after_a_correction_still_speaks_of_its_own_version(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)
    first = submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    correction = correct(store, first.walkdown_id)
    give(store, correction, "notes", "more")
    submit_draft(store, correction, signed_by="Cleo Roth", told="Foreman", reason="forgotten")
    again = submit_draft(store, draft_id, signed_by=" Ben  Meier ", told="Foreman")
    assert (again.walkdown_id, again.version) == (first.walkdown_id, 1)


def test_an_answer_that_comes_while_it_is_signed_is_in_the_walkdown_or_refused(store, unit):
    """None was said to be kept that the walkdown does not hold."""
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)

    def write() -> str:
        last = ""
        for number in range(200):
            try:
                give(store, draft_id, "notes", f"note {number}")
            except ClosedDraftError:
                return last
            last = f"note {number}"
        return last

    def sign():
        return submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")

    with ThreadPoolExecutor(2) as pool:
        writing, signing = pool.submit(write), pool.submit(sign)
        last, done = writing.result(60), signing.result(60)
    with store.reading() as connection:
        assert find_record(connection, "walkdowns", done.walkdown_id).content["notes"] == last
