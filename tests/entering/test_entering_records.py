"""Re-work, failures, accepted findings and releases, entered by hand."""

import time

import pandas as pd
import pytest
from at_the_machine import answer_visit, begin, give, today

from scoring.entering.enter_record import enter_record, withdraw
from scoring.entering.new_keys import new_key
from scoring.entering.refusals import RefusedError
from scoring.entering.releases import release_to_start, releases_of, verdict_now
from scoring.entering.submit_draft import submit_draft
from scoring.intake import check_fleet
from scoring.store.read_records import read_records
from scoring.store.store_errors import ChangedMeanwhileError, StoreError, UnknownRecordError
from scoring.store.versions import find_record, versions_of


def in_days(days: int) -> str:
    """Return a day from today on: of when it is asked, for a run may pass midnight."""
    return (pd.Timestamp(today()) + pd.Timedelta(days=days)).strftime("%Y-%m-%d")


def rework(unit, **more):
    return {"unit_id": unit, "done_on": today(), "actions": "fit_guard", **more}


def event(unit, **more):
    return {"unit_id": unit, "occurred_on": in_days(-7), "mode": "seal_leak", **more}


def accepted(unit, **more):
    return {
        "unit_id": unit,
        "check": "guard",
        "accepted_by": "Dora Hain",
        "reason": "fenced off",
        "accepted_on": today(),
        "until_on": in_days(30),
        **more,
    }


def enter(store, table, cells, **more):
    return enter_record(store, table, cells, actor="Cleo Roth", **more)


def hold(store, unit):
    """Find the guard missing, and sign that."""
    draft_id = begin(store, unit)
    answer_visit(store, draft_id, guard="missing")
    submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")


def content(store, table, key):
    with store.reading() as connection:
        return find_record(connection, table, key).content


def faults_of(store, table, cells):
    with pytest.raises(RefusedError) as refused:
        enter(store, table, cells)
    return {fault.field: fault.words for fault in refused.value.faults}


@pytest.mark.parametrize(
    ("table", "cells"), [("rework", rework), ("events", event), ("accepted", accepted)]
)
def test_a_record_is_kept_with_a_key_of_its_own_and_its_history(store, unit, table, cells):
    kept = enter(store, table, cells(unit))
    assert kept.version == 1
    assert {name: content(store, table, kept.key)[name] for name in cells(unit)} == cells(unit)
    with store.reading() as connection:
        (first,) = versions_of(connection, table, kept.key)
    assert (first.actor, first.reason, first.version) == ("Cleo Roth", "entered by hand", 1)


@pytest.mark.parametrize(
    ("table", "cells", "field"),
    [
        ("rework", {"actions": "polish"}, "actions"),
        ("rework", {"actions": ""}, "actions"),
        ("rework", {"hours": "1,5"}, "hours"),
        ("rework", {"crew_size": "0"}, "crew_size"),
        ("rework", {"done_on": "2001-01-01"}, "done_on"),
        ("rework", {"done_on": ""}, "done_on"),
        ("rework", {"event_id": "nobody-knows-it"}, "event_id"),
        ("rework", {"notes": "a\0b"}, "notes"),
        ("rework", {"notes": "\ud83d"}, "notes"),
        ("events", {"mode": "broke"}, "mode"),
        ("events", {"occurred_on": "2099-01-01"}, "occurred_on"),
        ("events", {"cost": "-1"}, "cost"),
        ("accepted", {"until_on": "2001-01-01"}, "until_on"),
        ("accepted", {"check": "colour"}, "check"),
        ("accepted", {"reason": ""}, "reason"),
        ("accepted", {"accepted_by": ""}, "accepted_by"),
    ],
)
def test_a_fault_is_told_at_its_field(sqlite_store, table, cells, field):
    base = {"rework": rework, "events": event, "accepted": accepted}[table]("SS-001")
    faults = faults_of(sqlite_store, table, {**base, **cells})
    assert set(faults) == {field}
    assert faults[field].startswith(f"{field} ")


@pytest.mark.parametrize("unit", ["SS-999", "", "ss-001"])
def test_a_unit_that_is_not_there_is_told_at_its_field(store, unit):
    assert set(faults_of(store, "rework", rework(unit))) == {"unit_id"}


@pytest.mark.parametrize("key", ["Müller/1", "a b?c=d&e#f%", "</script>", "'; --", "🪨"])
def test_a_record_may_have_any_key(store, unit, key):
    kept = enter(store, "rework", rework(unit, rework_id=key))
    assert kept.key == key
    assert content(store, "rework", key)["unit_id"] == unit


def test_a_record_that_was_sent_twice_is_kept_once(store, unit):
    cells = rework(unit, rework_id=f"R-{unit}")
    first = enter(store, "rework", {**cells, "recorded_at": f"{today()}T08:00:00"})
    second = enter(store, "rework", {**cells, "recorded_at": f"{today()}T08:00:05"})
    assert first == second
    with store.reading() as connection:
        assert len(versions_of(connection, "rework", first.key)) == 1


def test_a_record_that_was_changed_meanwhile_is_not_overwritten(store, unit):
    key = enter(store, "rework", rework(unit)).key
    with pytest.raises(ChangedMeanwhileError, match="version 1 in the store"):
        enter(store, "rework", rework(unit, rework_id=key, notes="new, or so one thinks"))
    seen = enter(store, "rework", rework(unit, rework_id=key, notes="one"), read_version=1)
    assert seen.version == 2
    with pytest.raises(ChangedMeanwhileError, match="version 1 was read"):
        enter(store, "rework", rework(unit, rework_id=key, notes="other"), read_version=1)
    assert content(store, "rework", key)["notes"] == "one"


def test_a_record_stays_with_its_unit(store, unit):
    kept = enter(store, "rework", rework(unit))
    cells = rework("SS-001" if unit != "SS-001" else "SS-002", rework_id=kept.key)
    with pytest.raises(RefusedError, match=f"is a record of {unit}; withdraw it there"):
        enter(store, "rework", cells, read_version=1)


def test_a_record_that_was_withdrawn_is_read_no_more_and_stays_in_the_history(store, unit):
    hold(store, unit)
    key = enter(store, "rework", rework(unit)).key
    assert not verdict_now(store, unit).must_not_run
    withdraw(store, "rework", key, actor="Dora Hain", reason="another unit's guard")
    assert verdict_now(store, unit).must_not_run
    with store.reading() as connection:
        last = versions_of(connection, "rework", key)[-1]
    assert (last.actor, last.change, last.reason) == (
        "Dora Hain",
        "withdrawn",
        "another unit's guard",
    )
    with pytest.raises(UnknownRecordError, match=f"there is no {key} in rework"):
        withdraw(store, "rework", key, actor="Dora Hain", reason="once more")


def test_a_failure_that_its_repair_names_is_not_withdrawn(store, unit):
    """Else the records could not be read any more."""
    failure = enter(store, "events", event(unit)).key
    repair = enter(store, "rework", rework(unit, event_id=failure)).key
    with pytest.raises(RefusedError, match="rework would no longer fit: event_id"):
        withdraw(store, "events", failure, actor="Dora Hain", reason="no failure")
    withdraw(store, "rework", repair, actor="Dora Hain", reason="no repair")
    withdraw(store, "events", failure, actor="Dora Hain", reason="no failure")
    with store.reading() as connection:
        assert check_fleet(read_records(connection, "store"), pd.Timestamp.today()).faults.empty


def test_a_unit_is_not_withdrawn(store, unit):
    with pytest.raises(RefusedError, match="a unit stays"):
        withdraw(store, "units", unit, actor="Dora Hain", reason="sold")


@pytest.mark.parametrize("reason", ["", "  ", "x" * 2001, "\ud83d"])
def test_who_withdraws_says_why(sqlite_store, reason):
    key = enter(sqlite_store, "rework", rework("SS-001")).key
    with pytest.raises(RefusedError, match="say why it is withdrawn"):
        withdraw(sqlite_store, "rework", key, actor="Dora Hain", reason=reason)


def test_a_release_is_refused_while_a_hold_stands_and_taken_after_the_rework(store, unit):
    hold(store, unit)
    with pytest.raises(RefusedError, match="fit the guard, and write it down as re-work first"):
        release_to_start(store, unit, released_by="Dora Hain", reason="guard fitted")
    enter(store, "rework", rework(unit))
    verdict = verdict_now(store, unit)
    assert verdict.verdict in {"watch", "correct"}, "reported cured, and not yet seen good"
    release = release_to_start(store, unit, released_by=" Dora  Hain", reason=" guard fitted ")
    assert (release.released_by, release.reason) == ("Dora Hain", "guard fitted")
    assert release.verdict == verdict.verdict
    with store.reading() as connection:
        assert releases_of(connection, unit) == [release]


def test_a_release_is_refused_when_a_hold_came_after_the_rework(store, unit):
    hold(store, unit)
    enter(store, "rework", rework(unit, done_on=in_days(-7)))
    hold(store, unit)
    with pytest.raises(RefusedError, match="write it down as re-work first"):
        release_to_start(store, unit, released_by="Dora Hain", reason="guard fitted")


@pytest.mark.parametrize("reason", ["", "   ", "x" * 2001, "a\0b"])
def test_a_release_says_what_was_done(sqlite_store, reason):
    with pytest.raises(RefusedError, match="say what was done") as refused:
        release_to_start(sqlite_store, "SS-001", released_by="Dora Hain", reason=reason)
    assert [fault.field for fault in refused.value.faults] == ["reason"]


@pytest.mark.parametrize("name", ["", " ", "x" * 101])
def test_a_release_is_signed_by_name(sqlite_store, name):
    with pytest.raises(StoreError, match="needs the name"):
        release_to_start(sqlite_store, "SS-001", released_by=name, reason="guard fitted")


@pytest.mark.parametrize("unit_id", ["SS-999", "", "ss-001"])
def test_a_unit_that_is_not_there_is_neither_judged_nor_released(store, unit_id):
    with pytest.raises(UnknownRecordError, match="ids are case-sensitive"):
        verdict_now(store, unit_id)
    with pytest.raises(UnknownRecordError, match="ids are case-sensitive"):
        release_to_start(store, unit_id, released_by="Dora Hain", reason="ready")


def test_a_unit_out_of_service_is_not_released(sqlite_store, quarry):
    gone = quarry.units.loc[quarry.units["out_of_service_on"].notna(), "unit_id"].iloc[0]
    with pytest.raises(RefusedError, match="is not in service"):
        release_to_start(sqlite_store, gone, released_by="Dora Hain", reason="ready")


def test_a_hold_that_somebody_answers_for_is_told_with_who_and_until_when(store, unit):
    hold(store, unit)
    until = in_days(30)
    enter(store, "accepted", accepted(unit, until_on=until))
    verdict = verdict_now(store, unit)
    assert not verdict.must_not_run
    (told,) = verdict.accepted
    assert "Dora Hain" in told
    assert until in told


def test_a_later_walkdown_cures_what_an_earlier_one_found(store, unit):
    hold(store, unit)
    draft_id = begin(store, unit)
    answer_visit(store, draft_id)
    give(store, draft_id, "guard", "fitted")
    submitted = submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    assert "guard" not in {asked.check for asked in submitted.verdict.holds}


def test_keys_are_in_the_order_in_which_they_were_made():
    made = []
    for _ in range(3):
        made.append(new_key("walkdowns"))
        time.sleep(0.002)
    assert made == sorted(made)
    assert len({new_key("walkdowns") for _ in range(1000)}) == 1000
