"""Routes held against what is true of generated plants: how much of it an hour of looking finds.

Thirty plants; what counts is the share of all that re-work of what nobody has seen could save,
plant by plant, for one costly unit would else outweigh all others. ``pytest
tests/benchmarks/test_looking_against_truth.py -m slow -s`` shows the table. By what is worth most
an hour a route saves clearly more than the least seen first, and in few hours more than the worst
ranked first; in eight and sixteen hours about as much as these: what differs there is within
chance. A fault counts as saved by whoever sees it, even where re-work would pay without a look,
which a route by worth leaves alone.
"""

from tempfile import TemporaryDirectory

import numpy as np
import pandas as pd
import pytest

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.contract.rework import ACTIONS
from scoring.files.read_fleet import read_fleet
from scoring.handbook.held_arm_effect import HARMS as MODES
from scoring.intake import check_fleet
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.looking.look_minutes import LookMinutes
from scoring.looking.look_plan import plan_looks
from scoring.looking.worth_of_looks import worth_of_looks
from scoring.what_if.action_arrays import ACTION_NAMES, actions_of
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts

AS_OF = pd.Timestamp("2026-06-30")
SEEDS, SIZE = range(3101, 3131), 400
HOURS = (4.0, 8.0, 16.0)
NOT_MUCH_LESS = 0.8
"""Of what the worst ranked first save in many hours: chance moves it by a tenth."""


def plant(seed):
    """Return how a generated plant stands, what looks are worth, and the truth of each."""
    with TemporaryDirectory() as folder:
        write_fleet(generate_fleet(SIZE, seed), folder)
        fleet = check_fleet(read_fleet(folder).tables, AS_OF).fleet
        truth = {n: pd.read_parquet(f"{folder}/truth/{n}.parquet") for n in ("checks", "actions")}
    assessor = FleetAssessor(fleet)
    assessment = assessor.assess(AS_OF, learning=assessor.learn(AS_OF))
    success = learn_rework_success(assessor.timeline, AS_OF)
    assessed_fleet = AssessedFleet(assessor, assessment, success, SiteEfforts())
    looks = worth_of_looks(assessed_fleet, LookMinutes())
    return assessed_fleet, looks, true_of_looks(assessed_fleet, looks, truth)


def true_of_looks(assessed_fleet, looks, truth):
    """Put beside each look whether there is a fault, which re-work pays most, and what it saves."""
    units = assessed_fleet.assessment.known.units
    costs = assessed_fleet.assessment.risk.costs
    known = looks.merge(truth["checks"], on=["unit_id", "check"], how="left")
    cures = pd.DataFrame([(c, a.name) for a in ACTIONS for c in a.cures], columns=["check", "does"])
    pairs = known.merge(cures, on="check").merge(
        truth["actions"].rename(columns={"action": "does"}),
        on=["unit_id", "does"],
        suffixes=("", "_done"),
    )
    flags = np.array([actions_of(name) for name in ACTION_NAMES])[
        pd.Index(ACTION_NAMES).get_indexer(pairs["does"])
    ]
    cost = assessed_fleet.efforts.work(
        units["site"].iloc[pairs["unit"]].reset_index(drop=True), flags
    )
    saves = -cost["cost"].to_numpy()
    for mode in MODES:
        gap = pairs[f"p_{mode}_seen"] - pairs[f"p_{mode}"]
        saves = saves + gap.to_numpy() * costs.of_failure(mode)[pairs["unit"]]
    pairs["saves"] = np.where(pairs["is_fault"], np.maximum(saves, 0.0), 0.0)
    best = pairs.sort_values("saves", ascending=False).drop_duplicates(["unit_id", "check"])
    columns = ["unit_id", "check", "does", "saves"]
    return known.merge(best[columns], on=["unit_id", "check"], how="left").fillna({"saves": 0.0})


def truly_found(visits, known):
    """Return what the best re-work of all that a route sees would truly save, and the faults."""
    pairs = visits.assign(check=visits["checks"].str.split(";")).explode("check")
    seen = pairs[["unit_id", "check"]].merge(known, on=["unit_id", "check"])
    saved = seen.groupby(["unit_id", "does"])["saves"].max().sum()
    return float(saved), int(seen["is_fault"].fillna(value=False).sum())


def in_order_of(looks, merit, hours):
    """Visit units in some order, seeing everything that can be seen, until the hours are over."""
    by_unit = looks.groupby("unit")
    visits = pd.DataFrame(
        {
            "unit_id": by_unit["unit_id"].first(),
            "site": by_unit["site"].first(),
            "checks": by_unit["check"].agg(";".join),
            "minutes": by_unit["minutes"].sum()
            + by_unit["visit_minutes"].max()
            + by_unit["guard_minutes"].max(),
        }
    )
    visits["merit"] = merit.reindex(visits.index)
    visits = visits.sort_values("merit", ascending=False, kind="stable")
    spent = visits.groupby("site", observed=True)["minutes"].cumsum()
    return visits[spent <= 60 * hours]


@pytest.mark.slow
def test_an_hour_of_looking_finds_more_than_by_plainer_rules():
    rows, chances = [], []
    for seed in SEEDS:
        assessed_fleet, looks, known = plant(seed)
        loss = pd.Series(assessed_fleet.assessment.risk.expected_loss)
        chances.append(known[["why", "chance_of_finding", "is_fault"]])
        for hours in HOURS:
            ours = plan_looks(looks, dict.fromkeys(looks["site"].astype(str).unique(), hours))
            ways = {
                "worth an hour": ours.visits,
                "worst ranked first": in_order_of(looks, loss, hours),
                "least seen first": in_order_of(looks, looks.groupby("unit").size(), hours),
            }
            most = known.groupby(["unit_id", "does"])["saves"].max().sum()
            for way, visits in ways.items():
                saved, faults = truly_found(visits, known)
                rows.append((hours, way, saved, saved / most, faults, len(visits)))
    columns = ["hours", "way", "saved", "share", "faults", "visits"]
    mean = pd.DataFrame(rows, columns=columns).groupby(["hours", "way"]).mean()
    every = pd.concat(chances)
    reported = every.groupby("why").agg(
        looks=("is_fault", "size"), told=("chance_of_finding", "mean"), true=("is_fault", "mean")
    )
    print(mean.round(2).to_string(), reported.round(3).to_string(), sep="\n")  # noqa: T201 - the table
    for hours in HOURS:
        share = mean.loc[hours]["share"]
        assert share["worth an hour"] > share["least seen first"]
        assert share["worth an hour"] > NOT_MUCH_LESS * share["worst ranked first"]
    few = mean.loc[HOURS[0]]["share"]
    assert few["worth an hour"] > few["worst ranked first"]
