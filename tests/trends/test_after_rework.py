"""What became of re-work, against loops over records, and by hand."""

from datetime import date

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from generated_fleets import AS_OF, generated_assessor
from hypothesis import given, settings
from random_books import books

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS, Seen
from scoring.contract.rework import with_brought
from scoring.handbook.effect import MODES
from scoring.timeline.leaks import DRIPPING
from scoring.timeline.resets import BEARING_SYMPTOMS
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


def naive_seen(assessor, as_of):
    """Walk through the records of each unit, one after the other."""
    timeline = assessor.timeline.in_the_order_known(as_of)
    fleet, records = timeline.fleet, timeline.records
    today, table = np.datetime64(as_of.date(), "D"), {}
    for check in CHECKS:
        for unit in range(len(fleet.units)):
            if fleet.units["mounting"].iloc[unit] not in check.mountings:
                continue
            own = [r for r in records.record_at if records.unit[r] == unit]
            walk(timeline, [r for r in own if records.known_from[r] <= today], check, table)
    return table


def walk(timeline, records, check, table):
    seen, cure = [], None
    for record in records:
        name, row = table_of(timeline.records, record)
        day = pd.Timestamp(timeline.records.day[record])
        if name == "walkdowns":
            bad = timeline.exceedance[check.name].iloc[row]
            if np.isnan(bad):
                continue
            seen.append(bad)
            if cure is not None:
                note(table[cure], bad, day)
        elif (what := changes(timeline.fleet, name, row, check)) is not None:
            if cure is not None:
                table[cure]["open"] = False
            cure = None
            if what == "cured" and name == "rework":
                cure = (timeline.fleet.rework["rework_id"].iloc[row], check.name)
                table[cure] = {"before": stood(seen, check), "after": NOT_LOOKED_AT, "open": True}
                table[cure] |= {"seen_on": pd.NaT, "found_again_on": pd.NaT}
            seen = []


def note(cure, bad, day):
    if cure["after"] == NOT_LOOKED_AT:
        cure["after"], cure["seen_on"] = (DID_NOT_SUCCEED if bad > 0 else SUCCEEDED), day
    elif cure["after"] == SUCCEEDED and bad > 0 and pd.isna(cure["found_again_on"]):
        cure["found_again_on"] = day


def stood(seen, check):
    if not seen:
        return "not seen"
    lasts = [bad for bad in seen if lasting(bad, check)]
    return "found wrong" if lasts or seen[-1] > 0 else "found good"


def lasting(bad, check):
    dripping = check.name == "seal_weep" and bad == DRIPPING
    return (bad > 0 and check.seen is Seen.HANGING) or dripping


def table_of(records, record):
    for name, part in records.of_table.items():
        if part.start <= record < part.stop:
            return name, record - part.start
    raise AssertionError


def changes(fleet, name, row, check):
    """Tell whether a record cures a check, makes looks at it void, or neither."""
    if name == "events":
        mode = fleet.events["mode"].iloc[row]
        bearing, seal = mode == "low_speed_bearing", mode == "seal_leak"
        cures, off = (check.name == "seal_weep") and (bearing or seal), bearing
    else:
        texts = fleet.rework["actions"].iloc[row].split(";")
        actions = [one for text in texts for one in with_brought(text)]
        cures = any(check.name in one.cures for one in actions)
        off = any(one.off_shaft for one in actions)
        bearing = any("bearing" in one.renews for one in actions)
    if cures:
        return "cured"
    hung = off and check.seen is not Seen.RUNNING
    return "void" if hung or (bearing and check.name in BEARING_SYMPTOMS) else None


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
    assessor, as_of = FleetAssessor(book.fleet()), pd.Timestamp(day)
    same(as_dict(seen_after_rework(assessor, as_of)), naive_seen(assessor, as_of))


def test_it_is_so_on_a_generated_fleet_too():
    assessor = generated_assessor(40, 451)
    table = seen_after_rework(assessor, AS_OF)
    same(as_dict(table), naive_seen(assessor, AS_OF))
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
    assert listed["loss_removed"].median() > 0
    assert (listed["loss_before"] - listed["loss_after"]).gt(0).mean() > 0.5


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
