"""Units whose records changed are judged anew alone: bit for bit as if all of them had been."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from test_part_of_a_fleet import some_units

from scoring.asking.checked_records import read
from scoring.assessment import FleetAssessor
from scoring.assessment.kept_ranking import KeptRanking
from scoring.contract import CHECKS

DAY = pd.Timestamp("2026-06-30")
FOUND = [check.name for check in CHECKS]


def ranked(fleet, wide, basis):
    """Rank a whole fleet by what is the same for all its units."""
    own = None if basis is None else fleet.with_own_failures(basis, DAY, wide)
    return KeptRanking(wide, basis, 365, fleet.assess(DAY, 365, own, wide).ranking)


@pytest.fixture(scope="module")
def quarry():
    whole = FleetAssessor(read("demo:small_quarry").fleet(keep_good=True))
    return whole, whole.fleet_wide(DAY), whole.learn(DAY)


def drop_a_walkdown(fleet, one, other):
    del other
    row = one % len(fleet.walkdowns)
    unit = fleet.walkdowns["unit_id"][row]
    left = fleet.walkdowns.drop(index=row).reset_index(drop=True)
    return replace(fleet, walkdowns=left), {unit}


def find_what_was_found_elsewhere(fleet, one, other):
    walkdowns = fleet.walkdowns.copy()
    mounting = walkdowns["unit_id"].map(fleet.units.set_index("unit_id")["mounting"])
    row = one % len(walkdowns)
    alike = np.flatnonzero((mounting == mounting[row]).to_numpy())
    source = alike[other % len(alike)]
    for name in FOUND:
        values = walkdowns[name].copy()
        values.iloc[row] = walkdowns[name].iloc[source]
        walkdowns[name] = values
    return replace(fleet, walkdowns=walkdowns), {walkdowns["unit_id"][row]}


def fail_again(fleet, one, other):
    again = fleet.events.iloc[[one % len(fleet.events)]]
    again = again.assign(
        event_id=f"again-{len(fleet.events)}",
        occurred_on=again["occurred_on"] + pd.Timedelta(days=1 + other % 90),
    )
    events = pd.concat([fleet.events, again], ignore_index=True)
    return replace(fleet, events=events), set(again["unit_id"])


def take_out_of_service(fleet, one, other):
    del other
    units = fleet.units.copy()
    row = one % len(units)
    gone = units["out_of_service_on"].copy()
    gone.iloc[row] = pd.Timestamp("2026-05-01") if pd.isna(gone.iloc[row]) else pd.NaT
    units["out_of_service_on"] = gone
    return replace(fleet, units=units), {units["unit_id"][row]}


CHANGES = [drop_a_walkdown, find_what_was_found_elsewhere, fail_again, take_out_of_service]
SOMETHING = st.tuples(
    st.integers(0, len(CHANGES) - 1), st.integers(0, 10_000), st.integers(0, 10_000)
)


def with_their_reducers(units, changed):
    reducer = units["asset_id"].fillna(units["unit_id"])
    return set(units["unit_id"][reducer.isin(reducer[units["unit_id"].isin(changed)])])


@settings(
    max_examples=8,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    phases=[Phase.explicit, Phase.reuse, Phase.generate],  # shrinking is slow
)
@given(
    learned=st.booleans(),
    rounds=st.lists(st.lists(SOMETHING, min_size=1, max_size=3), min_size=1, max_size=3),
)
def test_units_that_changed_are_judged_as_with_all_others(quarry, learned, rounds):
    whole, wide, learning = quarry
    basis = learning if learned else None
    fleet, kept = whole.fleet, ranked(whole, wide, basis)
    for changes in rounds:
        changed = set()
        for which, one, other in changes:
            fleet, units = CHANGES[which](fleet, one, other)
            changed |= units
        together = with_their_reducers(fleet.units, changed)
        kept = kept.with_changed(some_units(fleet, together), together)
    anew = ranked(FleetAssessor(fleet), wide, basis)
    pd.testing.assert_frame_equal(kept.ranking, anew.ranking, check_exact=True)


def test_a_unit_that_changed_is_judged_anew(quarry):
    whole, wide, learning = quarry
    kept = ranked(whole, wide, learning)
    held = kept.ranking["unit_id"][kept.ranking["verdict"] == "hold"].iloc[0]
    part = some_units(whole.fleet, {held})
    never = replace(part, walkdowns=part.walkdowns.iloc[:0])
    after = kept.with_changed(never, {held}).ranking
    assert after.set_index("unit_id").loc[held, "verdict"] == "watch"
    others = after[after["unit_id"] != held].drop(columns="rank").reset_index(drop=True)
    before = kept.ranking[kept.ranking["unit_id"] != held]
    pd.testing.assert_frame_equal(others, before.drop(columns="rank").reset_index(drop=True))
