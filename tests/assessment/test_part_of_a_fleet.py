"""A unit is assessed by what is the same for its fleet as it is within the whole of it."""

from dataclasses import fields

import numpy as np
import pandas as pd
import pytest

from scoring.asking.checked_records import read
from scoring.assessment import FleetAssessor, FleetWide
from scoring.records import Fleet

DAY = pd.Timestamp("2026-06-30")


def some_units(fleet, unit_ids):
    tables = {part.name: fleet.table(part.name) for part in fields(Fleet)}
    here = {name: table[table["unit_id"].isin(unit_ids)] for name, table in tables.items()}
    return Fleet(**{name: table.reset_index(drop=True) for name, table in here.items()})


def by_unit(frames):
    ranked = pd.concat(frames, ignore_index=True).drop(columns="rank")
    return ranked.sort_values("unit_id", ignore_index=True)


@pytest.mark.parametrize("plant", ["demo:ore_works", "demo:grain_port"])
@pytest.mark.parametrize("learned", [False, True])
def test_some_units_are_ranked_as_within_their_fleet(plant, learned):
    whole = FleetAssessor(read(plant).fleet(keep_good=True))
    units = whole.fleet.units
    reducer = units["asset_id"].fillna(units["unit_id"])
    pieces = [
        FleetAssessor(some_units(whole.fleet, units["unit_id"][reducer.isin(some)]))
        for some in np.array_split(reducer.unique(), 7)
    ]
    wide = FleetWide.of(DAY, [piece.piece(DAY) for piece in pieces])
    learning = whole.learn(DAY) if learned else None
    ranked = [
        piece.assess(
            DAY,
            365,
            None if learning is None else piece.with_own_failures(learning, DAY, wide),
            wide,
        ).ranking
        for piece in pieces
    ]
    one_go = whole.assess(DAY, 365, learning).ranking
    pd.testing.assert_frame_equal(by_unit(ranked), by_unit([one_go]), rtol=1e-9)


@pytest.mark.parametrize("day", ["2022-03-01", "2026-06-30"])
def test_own_failures_are_those_of_the_rows_that_are_learned_from(day):
    whole = FleetAssessor(read("demo:ore_works").fleet(keep_good=True))
    as_of = pd.Timestamp(day)
    rows = whole.failure_rows(as_of).tallies(len(whole.fleet.units))
    alone = whole.with_own_failures(whole.learn(as_of), as_of).tallies
    for mode, tally in rows.items():
        for part in fields(tally):
            assert np.array_equal(getattr(tally, part.name), getattr(alone[mode], part.name))
