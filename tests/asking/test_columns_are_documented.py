"""Every table that is handed out has the columns that are documented, in that order."""

import subprocess
import sys

import pandas as pd
import pytest
from demo_frames import DAY
from kept_plants import SMALL_QUARRY

import scoring
from scoring.contract import FLEET_TABLES


@pytest.fixture(scope="module")
def stands():
    return scoring.assess(scoring.read(SMALL_QUARRY), as_of=DAY, handbook_only=True)


def documented(table):
    return scoring.columns(table)["column"].tolist()


def test_records_and_faults():
    records = scoring.read(SMALL_QUARRY)
    for table in FLEET_TABLES:
        assert records.tables[table.name].columns.tolist() == documented(table.name)
    assert records.faults.columns.tolist() == documented("faults")
    of_frames = scoring.take(pd.DataFrame({"unit_id": ["A-1"]})).faults.columns.tolist()
    assert of_frames == [name if name != "row" else "index_label" for name in documented("faults")]


def test_ranking_plan_what_if_and_looks(stands):
    worst = stands.ranking.loc[0, "unit_id"]
    plan = stands.plan(crew_hours=60)
    looks = stands.look(hours=4)
    assert len(plan.jobs)
    assert len(looks.route.visits)
    for table, name in (
        (stands.ranking, "ranking"),
        (plan.jobs, "plan"),
        (plan.weighed, "plan"),
        (plan.missed, "plan"),
        (stands.what_if(worst, found={"oil_level": "low"}), "what_if"),
        (looks.route.visits, "route"),
        (looks.looks, "looks"),
    ):
        assert table.columns.tolist() == documented(name)


def test_every_column_says_what_it_means_and_where_it_comes_from():
    told = scoring.columns()
    assert not told.duplicated(["table", "column"]).any()
    assert (told[["meaning", "allowed", "source"]] != "").all(axis=None)
    of_units = told.set_index(["table", "column"]).loc[("units", "shaft_diameter_mm")]
    assert of_units["unit"] == "mm"
    assert of_units["allowed"] == "a number from 5 to 2000 mm, required"


def test_to_import_it_loads_next_to_nothing():
    lines = (
        "import sys, scoring; assert dir(scoring) == scoring.__all__; "
        "print(sorted(set(sys.modules) & {'pandas', 'numpy', 'scoring.asking.checked_records'}))"
    )
    told = subprocess.run([sys.executable, "-c", lines], check=True, capture_output=True, text=True)
    assert told.stdout.strip() == "[]"


def test_all_that_is_offered_is_there():
    for name in scoring.__all__:
        assert getattr(scoring, name).__doc__
    with pytest.raises(AttributeError, match="has no attribute 'nothing'; it offers"):
        _ = scoring.nothing
