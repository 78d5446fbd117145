"""From a draft to a signed walkdown: faults in words, and the verdict of the whole chain."""

import pandas as pd
import pytest
from at_the_machine import answer_visit, begin, give, today
from sqlalchemy import func, select

from dashboard import kept_in_store, launch_settings
from scoring.assessment import FleetAssessor
from scoring.entering.judge_draft import judge, judge_draft
from scoring.entering.refusals import RefusedError
from scoring.entering.sign_offs import find_sign_off, not_seen_of
from scoring.entering.start_correction import start_correction
from scoring.entering.submit_draft import submit_draft
from scoring.intake import check_fleet
from scoring.store.read_records import read_records
from scoring.store.schema import HISTORY, RECORDS, SIGN_OFFS
from scoring.store.store_errors import StoreError
from scoring.store.versions import find_record


def faults_of(store, draft_id):
    with pytest.raises(RefusedError) as refused:
        submit_draft(store, draft_id, signed_by="Ben Meier")
    return {fault.field: fault.words for fault in refused.value.faults}


def test_an_empty_draft_is_told_what_is_missing_field_by_field(store, unit):
    faults = faults_of(store, begin(store, unit))
    assert set(faults) == {"kind", "inspected_on"}
    assert all("missing" in words or "empty" in words for words in faults.values())


@pytest.mark.parametrize(
    ("field", "heading", "value", "words"),
    [
        ("kind", "kind", "weekly", "post_install"),
        ("inspected_on", "inspected_on", "yesterday", "2026"),
        ("inspected_on", "inspected_on", "2099-01-01", "in the future"),
        ("inspected_on", "inspected_on", "2001-01-01", "before its start on"),
        ("guard", "guard", "fine", "fitted"),
        ("smallest_clearance_mm", "smallest_clearance_mm", "1,5", "write a decimal point"),
        ("smallest_clearance_mm", "smallest_clearance_in", "about 1", "smallest_clearance_in"),
        ("smallest_clearance_mm", "smallest_clearance_mm", "-1", "0"),
        ("clamp_seat_condition", "clamp_seat_condition", "clean_dry", "has no such thing"),
    ],
)
def test_what_is_not_allowed_is_told_at_its_field_in_words(
    sqlite_store, field, heading, value, words
):
    draft_id = begin(sqlite_store)
    answer_visit(sqlite_store, draft_id)
    give(sqlite_store, draft_id, field, value, heading=heading)
    faults = faults_of(sqlite_store, draft_id)
    assert set(faults) == {field}
    assert words in faults[field]
    assert "nan" not in faults[field].lower()


def test_what_was_refused_can_be_put_right_and_submitted(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, guard="fine")
    assert set(faults_of(store, draft_id)) == {"guard"}
    give(store, draft_id, "guard", "fitted")
    assert submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman").version == 1


def test_every_fault_is_told_at_once(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, guard="fine", breather="odd", retention="who knows")
    assert set(faults_of(store, draft_id)) == {"guard", "breather", "retention"}


def test_a_hold_is_signed_only_when_it_is_said_who_was_told(store, unit, monkeypatch):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, guard="missing")
    judged = judge_draft(store, draft_id)
    assert judged.verdict.verdict == "hold"
    assert [asked.check for asked in judged.verdict.holds] == ["guard"]
    assert set(faults_of(store, draft_id)) == {"told"}
    done = submit_draft(store, draft_id, signed_by="Ben Meier", told=" Shift leader ")
    with store.reading() as connection:
        signed = find_sign_off(connection, done.walkdown_id, 1)
    assert (signed.verdict, signed.told, signed.signed_by) == ("hold", "Shift leader", "Ben Meier")
    monkeypatch.setattr(launch_settings, "store", lambda: store)
    assert kept_in_store.units_told_of([unit, "no such unit"]) == 1
    assert kept_in_store.units_told_of(["no such unit"]) == 0
    monkeypatch.setattr(launch_settings, "store", lambda: None)
    assert kept_in_store.units_told_of([unit]) is None
    assert signed.holds == tuple(asked.what for asked in done.verdict.holds)


@pytest.mark.parametrize("told", ["a\0b", "\ud83d", "x" * 2001])
def test_words_that_cannot_be_kept_are_refused(store, unit, told):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, guard="missing")
    with pytest.raises(RefusedError, match="what was typed") as refused:
        submit_draft(store, draft_id, signed_by="Ben Meier", told=told)
    assert [fault.field for fault in refused.value.faults] == ["told"]


@pytest.mark.parametrize("name", ["", "  ", "x" * 101])
def test_nobody_signs_without_a_name(store, unit, name):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)
    with pytest.raises(StoreError, match="needs the name"):
        submit_draft(store, draft_id, signed_by=name, told="Foreman")


def test_a_refused_submission_leaves_nothing_behind(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, guard="missing")
    numbers = _counts(store)
    with pytest.raises(RefusedError):
        submit_draft(store, draft_id, signed_by="Ben Meier")
    assert _counts(store) == numbers


def test_why_checks_were_not_seen_is_kept_beside_the_walkdown(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)
    give(store, draft_id, "guard", "", reason="no_access")
    give(store, draft_id, "breather", "", reason="running")
    done = submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    with store.reading() as connection:
        assert not_seen_of(connection, done.walkdown_id) == {
            "guard": "no_access",
            "breather": "running",
        }
        record = find_record(connection, "walkdowns", done.walkdown_id)
    assert record.content["guard"] is None


def test_the_day_of_a_phone_that_is_ahead_of_the_server_is_taken(sqlite_store):
    tomorrow = (pd.Timestamp.today() + pd.Timedelta(days=1)).strftime("%Y-%m-%d")
    draft_id = begin(sqlite_store)
    answer_visit(sqlite_store, draft_id)
    give(sqlite_store, draft_id, "inspected_on", tomorrow)
    assert submit_draft(sqlite_store, draft_id, signed_by="Ben Meier", told="F").version == 1


def test_a_walkdown_is_judged_anew_when_another_record_of_the_unit_comes_in(
    sqlite_store, monkeypatch
):
    """Two draft walkdowns of one unit: the second is signed by a verdict that knows the first."""
    first, second = begin(sqlite_store), begin(sqlite_store)
    answer_visit(sqlite_store, first, guard="missing")
    answer_visit(sqlite_store, second, notes="nothing more")
    begun = []

    def judge_and_let_the_other_in(seen):
        judged = judge(seen)
        if not begun:
            begun.append(first)
            submit_draft(sqlite_store, first, signed_by="Cleo Roth", told="Foreman")
        return judged

    assert judge_draft(sqlite_store, second).verdict.verdict != "hold"
    monkeypatch.setattr("scoring.entering.submit_draft.judge", judge_and_let_the_other_in)
    with pytest.raises(RefusedError, match="write down who was told"):
        submit_draft(sqlite_store, second, signed_by="Ben Meier")


def test_every_verdict_is_that_of_the_whole_chain(sqlite_store, quarry):
    """Each unit of the plant after a walkdown, good, bad or partly seen, beside the others."""
    told = {}
    found = ({"guard": "missing"}, {"arm_bolts": "loose"}, {"breather": "plugged"}, {})
    in_service = quarry.units.loc[quarry.units["out_of_service_on"].isna(), "unit_id"]
    for place, unit_id in enumerate(in_service):
        draft_id = begin(sqlite_store, unit_id)
        answer_visit(sqlite_store, draft_id, **found[place % len(found)])
        done = submit_draft(sqlite_store, draft_id, signed_by="Ben Meier", told="Foreman")
        told[unit_id] = done.verdict
    with sqlite_store.reading() as connection:
        tables = read_records(connection, sqlite_store.name)
    checked = check_fleet(tables, pd.Timestamp.today())
    assert checked.faults.empty
    assessment = FleetAssessor(checked.fleet).assess(pd.Timestamp(today()))
    ranking = assessment.ranking.set_index("unit_id")
    assert len(told) == len(ranking) == len(in_service)
    assert {unit: verdict.verdict for unit, verdict in told.items()} == (
        ranking["verdict"].astype(str).to_dict()
    )
    assert {unit: verdict.not_seen for unit, verdict in told.items()} == (
        ranking["not_seen"].fillna("").to_dict()
    )
    findings = assessment.findings.table
    standing = findings[findings["accepted"] == ""]
    for unit_id, verdict in told.items():
        expected = standing.loc[standing["unit_id"] == unit_id, "reason"].tolist()
        asked = [*verdict.holds, *verdict.corrects, *verdict.watched]
        assert sorted(one.what for one in asked) == sorted(expected), unit_id
    assert {verdict.verdict for verdict in told.values()} >= {"hold", "correct", "watch"}


def test_a_unit_out_of_service_has_no_verdict(sqlite_store, quarry):
    gone = quarry.units.loc[quarry.units["out_of_service_on"].notna()]
    assert len(gone), "the demo plant has units that were taken out of service"
    unit = gone.iloc[0]
    draft_id = begin(sqlite_store, unit["unit_id"])
    answer_visit(sqlite_store, draft_id)
    give(sqlite_store, draft_id, "inspected_on", unit["installed_on"].strftime("%Y-%m-%d"))
    give(sqlite_store, draft_id, "kind", "post_install")
    assert submit_draft(sqlite_store, draft_id, signed_by="Ben Meier").verdict.verdict == ""


def _counts(store):
    tables = (RECORDS["walkdowns"], SIGN_OFFS, HISTORY)
    with store.reading() as connection:
        return [connection.scalar(select(func.count()).select_from(table)) for table in tables]


def test_a_correction_that_lifts_a_hold_asks_who_was_told_of_that(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, guard="missing")
    held = submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    with store.writing("Cleo Roth") as writing:
        correction = start_correction(writing, held.walkdown_id)
    assert not judge_draft(store, correction).lifts_hold
    give(store, correction, "guard", "fitted", base=1, by="Cleo Roth")
    judged = judge_draft(store, correction)
    assert (judged.lifts_hold, judged.verdict.must_not_run) == (True, False)
    with pytest.raises(RefusedError, match="the hold is lifted by this correction") as refused:
        submit_draft(store, correction, signed_by="Cleo Roth", reason="it was behind the unit")
    assert [fault.field for fault in refused.value.faults] == ["told"]
    done = submit_draft(
        store, correction, signed_by="Cleo Roth", reason="it was behind the unit", told="Foreman"
    )
    with store.reading() as connection:
        signed = find_sign_off(connection, done.walkdown_id, 2)
    assert (signed.told, signed.holds) == ("Foreman", ())


def test_a_correction_that_makes_a_hold_asks_who_was_told(store, unit):
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, guard="fitted")
    good = submit_draft(store, draft_id, signed_by="Ben Meier")
    with store.writing("Cleo Roth") as writing:
        correction = start_correction(writing, good.walkdown_id)
    give(store, correction, "guard", "missing", base=1, by="Cleo Roth")
    assert not judge_draft(store, correction).lifts_hold
    with pytest.raises(RefusedError, match="the unit must not run"):
        submit_draft(store, correction, signed_by="Cleo Roth", reason="looked from the wrong side")
