"""Routes keep to the hours, and are nearly the best there are."""

from itertools import product

import numpy as np
import pandas as pd
import pytest
from assessed_fleets import generated_assessed_fleet
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from scoring.contract.look_effort import LOOK_SETTINGS
from scoring.errors import FaultyRecordsError
from scoring.intake import RawTable
from scoring.looking.candidate_visits import visits_of
from scoring.looking.choose_visits import choose_visits
from scoring.looking.look_minutes import LookMinutes, read_look_settings
from scoring.looking.look_plan import COLUMNS, plan_looks
from scoring.looking.worth_of_looks import worth_of_looks


@pytest.fixture(scope="module")
def looks():
    return worth_of_looks(generated_assessed_fleet(), LookMinutes())


def exhaustive(unit, minutes, value, budget):
    """Try every choice of one visit, or none, for each unit."""
    places = [[-1, *np.flatnonzero(unit == one)] for one in np.unique(unit)]
    best = 0.0
    for some in product(*places):
        taken = [n for n in some if n >= 0]
        if minutes[taken].sum() <= budget + 1e-9:
            best = max(best, value[taken].sum())
    return best


def test_the_choice_is_nearly_the_best():
    draw = np.random.default_rng(11)
    shares = []
    for _ in range(300):
        size = int(draw.integers(1, 14))
        unit = draw.integers(0, 6, size)
        minutes, value = draw.uniform(20, 120, size), draw.exponential(50, size)
        budget = float(draw.uniform(30, 400))
        chosen = choose_visits(unit, minutes, value, budget)
        best = exhaustive(unit, minutes, value, budget)
        assert minutes[chosen.taken].sum() <= budget + 1e-6
        assert len(set(unit[chosen.taken])) == chosen.taken.sum()
        assert chosen.value == pytest.approx(value[chosen.taken].sum())
        assert best / 2 - 1e-9 <= chosen.value <= best + 1e-6
        assert best <= chosen.bound + 1e-6
        shares.append(chosen.value / best if best else 1.0)
    assert np.mean(shares) > 0.99, np.mean(shares)
    assert np.mean(np.array(shares) > 1 - 1e-9) > 0.9, "mostly it is the best"


def best_by_programme(unit, minutes, value, budget):
    """Return the best by a mixed-integer programme."""
    _, code = np.unique(unit, return_inverse=True)
    once = coo_array((np.ones(len(code)), (code, np.arange(len(code)))))
    found = milp(
        -value,
        integrality=np.ones(len(code)),
        bounds=Bounds(0, 1),
        constraints=[
            LinearConstraint(once.tocsr(), -np.inf, 1),
            LinearConstraint(minutes[np.newaxis], -np.inf, budget),
        ],
        options={"mip_rel_gap": 1e-4, "time_limit": 10},
    )
    return -found.fun


def test_a_large_choice_is_nearly_the_best():
    draw = np.random.default_rng(12)
    shares = []
    for budget in (150.0, 240.0, 480.0, 2400.0):
        unit = np.sort(draw.integers(0, 200, 1000))
        minutes = np.round(draw.uniform(30, 120, 1000))
        value = draw.exponential(50, 1000)
        chosen = choose_visits(unit, minutes, value, budget)
        best = best_by_programme(unit, minutes, value, budget)
        assert minutes[chosen.taken].sum() <= budget + 1e-6
        assert best <= chosen.bound * (1 + 1e-6)
        shares.append(chosen.value / best)
    assert min(shares) > 0.93, shares
    assert np.mean(shares) > 0.97, shares


def test_routes_keep_to_hours_and_sites_and_more_hours_are_worth_no_less(looks):
    site = str(looks["site"].iloc[0])
    worth = []
    for hours in (1.0, 3.0, 8.0, 1000.0):
        route = plan_looks(looks, {site: hours})
        assert (route.visits["site"] == site).all()
        assert route.visits["unit_id"].is_unique
        assert route.visits["minutes"].sum() <= 60 * hours + 1e-6
        assert route.visits["value"].sum() == pytest.approx(route.by_site["value"].sum())
        assert (route.by_site["value"] <= route.by_site["bound"] + 1e-6).all()
        assert list(route.visits.columns) == list(COLUMNS)
        worth.append(float(route.visits["value"].sum()))
    assert worth == sorted(worth)
    assert worth[0] < worth[-1]


def test_without_a_limit_every_look_worth_anything_is_taken_once(looks):
    route = plan_looks(looks, dict.fromkeys(looks["site"].astype(str).unique(), 1e5))
    worth = looks[looks["value"] > 0].drop_duplicates(["unit", "shows"])
    taken = route.visits["checks"].str.split(";").str.len().sum()
    assert taken == len(worth)
    assert route.visits["value"].sum() == pytest.approx(worth["value"].sum())


def test_a_visit_counts_its_lock_out_once_and_the_guard_where_it_has_to_come_off():
    looks = pd.DataFrame(
        {
            "unit": [0, 0, 0],
            "unit_id": "U1",
            "site": "quarry",
            "check": ["oil_level", "breather", "screws_low"],
            "shows": ["oil", "breather", "torque"],
            "value": [5.0, 4.0, 30.0],
        }
    )
    looks = pd.concat([looks, LookMinutes().of_checks(looks["site"], looks["check"])], axis=1)
    table = visits_of(looks).table
    open_ones = table[~table["guard_off"]]
    assert open_ones["minutes"].tolist() == [32, 37]
    assert open_ones["value"].tolist() == [4, 9]
    with_guard = table[table["guard_off"]]
    assert with_guard["minutes"].tolist() == [70, 72, 77]
    assert with_guard["value"].tolist() == [30, 34, 39]


def test_order_is_by_site_line_the_plants_own_order_and_unit(looks):
    visits = plan_looks(looks, dict.fromkeys(looks["site"].astype(str).unique(), 100.0)).visits
    units = generated_assessed_fleet().assessment.known.units.set_index("unit_id")
    place = pd.to_numeric(units["walk_order"]).astype(float).fillna(np.inf)
    keys = visits[["site", "line", "unit_id"]].astype(object).fillna("")
    keys.insert(2, "place", place[visits["unit_id"]].to_numpy())
    assert keys.to_numpy().tolist() == sorted(keys.to_numpy().tolist())
    assert visits["order"].tolist() == list(range(1, len(keys) + 1))
    assert np.isfinite(keys["place"]).sum() > 1
    assert not visits.groupby(["site", "line"])["unit_id"].is_monotonic_increasing.all()


def settings(rows):
    return RawTable.from_rows(LOOK_SETTINGS.name, "minutes.csv", ["site", "what", "minutes"], rows)


def test_a_plant_may_give_its_own_minutes():
    sites = pd.Series(["quarry", "port"])
    own = read_look_settings(
        settings([["", "walking", "3"], ["port", "locked_out", "0"], ["port", "oil_level", "9"]]),
        sites,
    )
    minutes = own.of_checks(sites, pd.Series(["oil_level", "oil_level"]))
    assert minutes.to_numpy().tolist() == [[5, 23, 0], [9, 3, 0]]


@pytest.mark.parametrize(
    ("row", "wrong"),
    [
        (["mine", "walking", "3"], "no site"),
        (["", "tea", "3"], "what"),
        (["", "walking", "-1"], "minutes"),
    ],
)
def test_wrong_minutes_are_told_by_row_and_column(row, wrong):
    with pytest.raises(FaultyRecordsError, match=wrong) as raised:
        read_look_settings(settings([["", "oil_level", "4"], row]), pd.Series(["quarry"]))
    assert "row 3" in str(raised.value)
