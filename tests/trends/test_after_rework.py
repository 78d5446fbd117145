"""What became of re-work, against loops over records, and by hand."""

from datetime import date

import numpy as np
import pandas as pd
import pytest
from fleets import Book, exceedance_by_look
from generated_fleets import AS_OF, generated_assessor, generated_book
from hypothesis import given, settings
from naive_timeline import (
    BEARING_SYMPTOMS,
    CURES,
    GOOD_IS_LOST,
    HANGING,
    MADE_ANEW,
    OFF_SHAFT,
    actions_in,
    told_record_by_record,
)
from random_books import books

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS
from scoring.contract.events import MODES
from scoring.trends.after_rework import (
    DID_NOT_SUCCEED,
    NOT_LOOKED_AT,
    SUCCEEDED,
    came_back,
    overdue_looks,
    seen_after_rework,
)
from scoring.trends.gain_of_rework import gain_of_rework

WORDS = ("before", "after", "seen_on", "found_again_on", "open")


def naive_seen(book, day):
    """Walk through the records of each unit, one after the other."""
    exceedance, table = exceedance_by_look(book.fleet()), {}
    leaks = {
        (row["unit_id"], row["occurred_on"][:10])
        for row in book.events
        if row["mode"] == "seal_leak" and (row.get("recorded_at") or "")[:10] <= day.isoformat()
    }
    for unit in book.units:
        on_it = [
            check.name
            for check in CHECKS
            if unit["mounting"] in check.mountings
            and (check.name != "backstop_direction" or unit.get("backstop") == "yes")
        ]
        cures = {}
        for naive, what, row in told_record_by_record(book, unit, day, exceedance):
            for check in on_it:
                if what == "walkdowns" and row.get(check):
                    told = (unit["unit_id"], row["inspected_on"][:10]) in leaks
                    if check in cures and not (row[check] == "dripping" and told):
                        seen_on = pd.Timestamp(row["inspected_on"][:10])
                        note(cures[check], exceedance[row["walkdown_id"], check], seen_on)
                elif what in ("events", "rework") and tells_of_something_new(what, row, check):
                    if check in cures:
                        cures.pop(check)["open"] = False
                    if what == "rework" and cured(naive, row, check):
                        looked = naive.looks.get(check)
                        cure = {"before": stood(looked), "after": NOT_LOOKED_AT, "open": True}
                        cures[check] = cure | {"seen_on": pd.NaT, "found_again_on": pd.NaT}
                        table[row["rework_id"], check] = cures[check]
    return table


def note(cure, bad, day):
    if cure["after"] == NOT_LOOKED_AT:
        cure["after"], cure["seen_on"] = (DID_NOT_SUCCEED if bad > 0 else SUCCEEDED), day
    elif cure["after"] == SUCCEEDED and bad > 0 and pd.isna(cure["found_again_on"]):
        cure["found_again_on"] = day


def stood(looked):
    if looked is None:
        return "not seen"
    return "found wrong" if looked.exceedance > 0 else "found good"


def cured(naive, row, check):
    actions = actions_in("rework", row)
    return any(check in CURES[one] for one in actions) and not naive.stays(check, actions)


def tells_of_something_new(what, row, check):
    """Tell whether looks after a record tell of another state of a check than looks before it."""
    actions = actions_in(what, row)
    off = row.get("mode") == "joint_slip" or any(one in OFF_SHAFT for one in actions)
    by_hanging = check in (*MADE_ANEW, *GOOD_IS_LOST, *HANGING)
    new_bearing = check in BEARING_SYMPTOMS and "renew_bearing" in actions
    return any(check in CURES[one] for one in actions) or (off and by_hanging) or new_bearing


def as_dict(table):
    return {
        (row["rework_id"], row["check"]): {name: row[name] for name in WORDS}
        for row in table.to_dict("records")
    }


def same(got, expected):
    assert got.keys() == expected.keys()
    for key, listed in expected.items():
        for name in WORDS:
            one, other = got[key][name], listed[name]
            assert one == other or (pd.isna(one) and pd.isna(other)), (key, name, one, other)


@settings(max_examples=25, deadline=None)
@given(books())
def test_it_is_what_a_walk_through_the_records_says(drawn):
    book, day = drawn
    seen = seen_after_rework(FleetAssessor(book.fleet()), pd.Timestamp(day))
    same(as_dict(seen), naive_seen(book, day))


def test_it_is_so_on_a_generated_fleet_too():
    assessor = generated_assessor(40, 451)
    table = seen_after_rework(assessor, AS_OF)
    same(as_dict(table), naive_seen(generated_book(40, 451), AS_OF.date()))
    assert {SUCCEEDED, NOT_LOOKED_AT} <= set(table["after"])


def story() -> Book:
    return (
        Book()
        .unit(installed_on="2024-01-01")
        .look("2024-01-02", breather="plugged", guard="missing")
        .reworked("2024-02-01", "open_breather;fit_guard", hours="2", crew_size="2")
        .look("2024-03-01", breather="open")
        .look("2024-09-01", breather="plugged")
        .reworked("2024-10-01", "open_breather")
    )


def test_a_story_by_hand():
    assessor, day = FleetAssessor(story().fleet()), pd.Timestamp("2025-03-01")
    seen = seen_after_rework(assessor, day).set_index(["rework_id", "check"])
    first = seen.loc["R1", "breather"]
    assert (first["before"], first["after"]) == ("found wrong", SUCCEEDED)
    assert first["found_again_on"] == pd.Timestamp("2024-09-01")
    assert seen.loc["R1", "guard"]["after"] == NOT_LOOKED_AT
    late = overdue_looks(seen.reset_index(), assessor.fleet.units, day)
    assert late[["rework_id", "checks", "days"]].to_numpy().tolist() == [
        ["R1", "guard", 394],
        ["R2", "breather", 151],
    ]
    again = came_back(seen.reset_index())
    assert again[["check", "rework_id", "days"]].to_numpy().tolist() == [["breather", "R1", 213]]
    early = seen_after_rework(assessor, pd.Timestamp("2024-02-15"))
    assert (early["after"] == NOT_LOOKED_AT).all()
    assert overdue_looks(early, assessor.fleet.units, pd.Timestamp("2024-02-15")).empty
    assert came_back(early).empty


def test_a_fleet_without_rework_has_nothing_to_tell():
    assessor = FleetAssessor(Book().unit().look("2024-02-01", guard="missing").fleet())
    day = pd.Timestamp(date(2025, 1, 1))
    seen = seen_after_rework(assessor, day)
    assert seen.empty
    assert came_back(seen).empty
    assert overdue_looks(seen, assessor.fleet.units, day).empty
    assert gain_of_rework(assessor, day).empty


def test_gain_is_what_rankings_of_the_days_before_and_after_say():
    assessor = generated_assessor(40, 451)
    gain = gain_of_rework(assessor, AS_OF)
    listed = gain.dropna(subset="loss_removed")
    then = FleetAssessor(assessor.fleet)
    today = assessor.prevalence(AS_OF)
    then.prevalence = lambda _day: today
    written = assessor.fleet.rework.set_index("rework_id")["recorded_at"]
    for row in listed.sample(5, random_state=1).to_dict("records"):
        done = pd.Timestamp(row["done_on"]).normalize()
        known = max(done, (written.fillna(done))[row["rework_id"]].normalize())
        last = min(known + pd.Timedelta(days=1), AS_OF)
        for end, day in (("", done - pd.Timedelta(days=1)), ("_after", last)):
            stands = then.assess(day)
            place = stands.known.units["unit_id"].tolist().index(row["unit_id"])
            for mode in MODES:
                expected = stands.risk.modes[mode].probability[place]
                assert row[f"p_{mode}{end}"] == pytest.approx(expected, rel=1e-9)
    # Off its shaft a unit loses what was seen good of its joint and arm, until somebody looks
    stayed = listed["actions"].map(lambda done: not set(OFF_SHAFT) & set(str(done).split(";")))
    on_shaft = listed[stayed.to_numpy()]
    assert listed["loss_removed"].sum() > 0
    assert on_shaft["loss_removed"].median() > 0
    assert (on_shaft["loss_before"] - on_shaft["loss_after"]).gt(0).mean() > 0.5


def test_gain_a_crew_hour_by_hand_and_by_what_failures_say():
    assessor = FleetAssessor(story().fleet())
    gain = gain_of_rework(assessor, pd.Timestamp("2025-03-01")).set_index("rework_id")
    assert gain.loc["R1", "crew_hours"] == 4
    removed = gain.loc["R1", "loss_removed"]
    assert removed > 0
    assert gain.loc["R1", "loss_removed_per_crew_hour"] == pytest.approx(removed / 4)
    assert np.isnan(gain.loc["R2", "loss_removed_per_crew_hour"])
    fleet = generated_assessor(40, 451)
    learned = gain_of_rework(fleet, AS_OF, fleet.learn(AS_OF))
    assert len(learned) == len(gain_of_rework(fleet, AS_OF))
    assert learned["loss_removed"].notna().any()


def test_what_two_rows_of_one_day_removed_is_parted():
    both = (
        Book()
        .unit(installed_on="2024-01-01")
        .look("2024-01-02", breather="plugged", oil_level="low")
        .reworked("2024-02-01", "open_breather")
        .reworked("2024-02-01", "correct_oil_level")
    )
    gain = gain_of_rework(FleetAssessor(both.fleet()), pd.Timestamp("2025-03-01"))
    total = (gain["loss_before"] - gain["loss_after"]).iloc[0]
    assert gain["loss_removed"].tolist() == pytest.approx([total / 2, total / 2])
