"""What must hold of the value of looking, whatever the fleet."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from assessed_fleets import (
    AS_OF,
    SEED,
    SIZE,
    Book,
    assessed_fleet_of_book,
    generated_assessed_fleet,
)
from generated_fleets import generated_book

from scoring.contract import CHECK_BY_NAME, Seen
from scoring.handbook.multipliers import CONDITIONS
from scoring.looking.look_minutes import LookMinutes
from scoring.looking.look_plan import plan_looks
from scoring.looking.losses import looked_at
from scoring.looking.value_of_looking import each_by_itself, value_of_looking
from scoring.looking.what_a_look_finds import SHOWN_BY_LOOKS, values_found
from scoring.looking.what_looks_may_find import (
    DUE_AGAIN,
    NOT_SEEN,
    REPORTED_CURED,
    what_looks_may_find,
)
from scoring.looking.worth_of_looks import COLUMNS as COLUMNS_OF_LOOKS
from scoring.looking.worth_of_looks import worth_of_looks

ALL_GOOD = {
    "bore_condition": "clean_dry",
    "seated": "home",
    "shaft_end": "reaches",
    "shaft_diameter_measured_mm": "79.98",
    "shaft_seat": "sound",
    "shaft_runout_mm": "0.05",
    "key_condition": "right",
    "retention": "tight",
    "arm_bolts": "tight",
    "isolator_stack": "complete",
    "isolators_free": "1",
    "metal_contact": "no",
    "smallest_clearance_mm": "8",
    "arm_misset_mm": "0.5",
    "arm_angle_deg": "90",
    "breather": "open",
    "oil_level": "right",
    "mounting_position": "as_required",
    "oil_condition": "clean",
    "seal_lip": "clean",
    "running_temperature_c": "55",
    "vibration_mm_s": "1.5",
    "seal_weep": "dry",
}
GOOD_LOOK = {"oil_level": "right", "breather": "open", "arm_bolts": "tight", "seal_weep": "dry"}


def worth(assessed_fleet, outcomes):
    questions = each_by_itself(outcomes)
    table = questions.merge(value_of_looking(assessed_fleet, outcomes, questions), on="question")
    table["unit_id"] = assessed_fleet.assessment.known.units["unit_id"].to_numpy()[table["unit"]]
    return table.set_index(["unit_id", "check"])


@pytest.mark.parametrize("state", list(Seen))
def test_chances_are_whole_and_looking_never_hurts(state):
    assessed_fleet = generated_assessed_fleet()
    outcomes = what_looks_may_find(assessed_fleet, state)
    total = outcomes.groupby(["unit", "check"])["chance"].sum()
    assert total.to_numpy() == pytest.approx(1.0)
    questions = each_by_itself(outcomes)
    value = value_of_looking(assessed_fleet, outcomes, questions)
    difference = value["saved_by_looking"] - value["saved_without"]
    assert (difference > -1e-6).all(), "information cannot hurt"
    assert (value["value"] >= 0).all()


def test_a_look_finds_the_state_that_it_stands_for():
    assessed_fleet = generated_assessed_fleet()
    for state in Seen:
        outcomes = what_looks_may_find(assessed_fleet, state)
        unit = outcomes["unit"].to_numpy()
        known = looked_at(assessed_fleet, unit, outcomes, np.arange(len(outcomes))[:, np.newaxis])
        bad = assessed_fleet.assessment.limits.at(unit)
        assert len(bad.table) == len(outcomes)
        for check, rows in outcomes.groupby("check").indices.items():
            found = known.exceedance[check].to_numpy()[rows]
            order = outcomes.iloc[rows].assign(bad=found)
            worse = order.sort_values(["unit", "outcome"]).groupby("unit")["bad"].diff().dropna()
            assert (worse >= 0).all(), f"{check}: later outcomes are no better"
            assert (found[(outcomes["outcome"].to_numpy() == 0)[rows]] == 0).all(), check


def test_everything_with_a_prevalence_can_be_looked_for():
    shown = {one.shows for one in SHOWN_BY_LOOKS}
    assert {one.name for one in CONDITIONS} <= shown
    unshown = set(CHECK_BY_NAME) - {one.check for one in SHOWN_BY_LOOKS}
    of_the_grip = {"witness_mark", "screws_rechecked"}
    assert unshown == {"guard", "isolator_squeeze_mm"} | of_the_grip


def test_a_word_is_not_guessed_from_states_that_are_no_steps_down_the_words():
    nothing = pd.DataFrame()
    shown = next(one for one in SHOWN_BY_LOOKS if one.check == "breather")
    in_steps = values_found(shown, np.array([0.0, 1.0]), nothing, nothing)
    assert in_steps.tolist() == ["open", "plugged"]
    pressure = replace(shown, effect=replace(shown.effect, unit="kPa", states=(0, 15)))
    found = values_found(pressure, np.array([0.0, 15.0]), nothing, nothing)
    assert found.tolist() == [None, None]


def test_what_was_just_seen_good_is_not_worth_another_look():
    day = str(AS_OF.date())
    book = Book().unit(started_on="2024-01-01").look(day, kind="periodic", **GOOD_LOOK)
    assessed_fleet = assessed_fleet_of_book(book)
    outcomes = what_looks_may_find(assessed_fleet)
    assert not set(GOOD_LOOK) & set(outcomes["check"])
    questions = pd.DataFrame(
        {"question": [0, 1], "unit": 0, "check": ["oil_level", "arm_bolts"], "seen": True}
    )
    assert value_of_looking(assessed_fleet, outcomes, questions)["value"].tolist() == [0, 0]


def test_why_it_is_worth_a_look():
    book = (
        Book()
        .unit(started_on="2022-01-01", installed_on="2022-01-01")
        .look("2022-01-01", oil_level="right", arm_bolts="tight", breather="plugged")
        .reworked("2026-03-01", "open_breather")
    )
    outcomes = what_looks_may_find(assessed_fleet_of_book(book))
    why = outcomes.drop_duplicates("check").set_index("check")["why"]
    assert why["oil_level"] == DUE_AGAIN
    assert why["breather"] == REPORTED_CURED
    assert why["shaft_end"] == NOT_SEEN
    chance = outcomes[outcomes["check"] == "breather"].set_index("outcome")["chance"]
    assert chance[0] == pytest.approx(0.85)


def test_the_longer_ago_the_more_likely_is_a_fault():
    chances = []
    for year in (2023, 2021, 2016):
        book = Book().unit(installed_on="2015-01-01").look(f"{year}-01-01", oil_level="right")
        outcomes = what_looks_may_find(assessed_fleet_of_book(book))
        oil = outcomes[outcomes["check"] == "oil_level"]
        chances.append(oil.loc[oil["outcome"] > 0, "chance"].sum())
    assert 0 < chances[0] < chances[1] < chances[2] < 0.12


def test_looking_is_worth_more_where_faults_are_more_usual_until_one_acts_anyway():
    assessed_fleet = generated_assessed_fleet()
    outcomes = what_looks_may_find(assessed_fleet)
    before = worth(assessed_fleet, outcomes)
    some = outcomes[outcomes["why"] == NOT_SEEN]
    at_most = 1.0
    bad = some["outcome"] > 0
    more = outcomes.copy()
    more.loc[some.index[bad], "chance"] *= 1.2
    total = more[more["outcome"] > 0].groupby(["unit", "check"])["chance"].sum()
    rest = at_most - total.reindex(pd.MultiIndex.from_frame(more[["unit", "check"]])).to_numpy()
    more["chance"] = np.where(more["outcome"] == 0, rest, more["chance"])
    after = worth(assessed_fleet, more)
    quiet = (before["saved_without"] == 0) & (after["saved_without"] == 0)
    assert (after["value"][quiet] >= before["value"][quiet] - 1e-9).all()
    assert (after["value"][quiet] > before["value"][quiet] + 1e-6).any()
    nothing = outcomes.assign(chance=np.where(outcomes["outcome"] == 0, 1.0, 0.0))
    sure = worth(assessed_fleet, nothing[nothing["chance"] > 0])
    assert sure["value"].to_numpy() == pytest.approx(0.0, abs=1e-9)


def test_names_and_order_of_units_and_rows_do_not_matter():
    assessed_fleet = generated_assessed_fleet()
    here = worth(assessed_fleet, what_looks_may_find(assessed_fleet))
    book = generated_book(SIZE, SEED)

    def other(rows):
        return [{**row, "unit_id": "Z" + row["unit_id"][::-1]} for row in reversed(rows)]

    turned = replace(
        book,
        **{name: other(getattr(book, name)) for name in ("units", "walkdowns", "events", "rework")},
    )
    then = assessed_fleet_of_book(turned)
    again = worth(assessed_fleet_of_book(book), what_looks_may_find(assessed_fleet_of_book(book)))
    there = worth(then, what_looks_may_find(then))
    names = {(unit, check): ("Z" + unit[::-1], check) for unit, check in here.index}
    assert len(there) == len(again)
    for key, name in names.items():
        assert there["value"][name] == pytest.approx(again["value"][key], rel=1e-9, abs=1e-6)


def test_two_checks_together_are_worth_at_least_the_better_one():
    """Each judged with the same re-work open to choice."""
    assessed_fleet = generated_assessed_fleet()
    outcomes = what_looks_may_find(assessed_fleet)
    checks = each_by_itself(outcomes).groupby("unit")["check"].agg(list)
    pairs = [(unit, one[n : n + 2]) for unit, one in checks.items() for n in range(len(one) - 1)]
    rows = [
        {"question": 3 * n + turn, "unit": unit, "check": check, "seen": turn in {place, 2}}
        for n, (unit, both) in enumerate(pairs)
        for turn in range(3)
        for place, check in enumerate(both)
    ]
    value = value_of_looking(assessed_fleet, outcomes, pd.DataFrame(rows))["value"].to_numpy()
    one, other, both = value.reshape(-1, 3).T
    assert (both >= np.maximum(one, other) - 1e-6).all()
    assert (both > 0).any()


def test_a_question_of_too_many_checks_is_refused():
    assessed_fleet = generated_assessed_fleet()
    many = pd.DataFrame({"question": 0, "unit": 0, "check": list(CHECK_BY_NAME)[:4], "seen": True})
    with pytest.raises(ValueError, match="at most 3 checks"):
        value_of_looking(assessed_fleet, what_looks_may_find(assessed_fleet), many)


def test_values_of_checks_of_one_unit_nearly_add_up():
    assessed_fleet = generated_assessed_fleet()
    outcomes = what_looks_may_find(assessed_fleet)
    questions = each_by_itself(outcomes)
    table = questions.merge(value_of_looking(assessed_fleet, outcomes, questions), on="question")
    two = table[table["value"] > 1].sort_values("value", ascending=False).groupby("unit").head(2)
    two = two[two.groupby("unit")["check"].transform("size") == 2]
    asked = two[["unit", "check"]].assign(question=two["unit"], seen=True)
    together = value_of_looking(assessed_fleet, outcomes, asked).set_index("question")["value"]
    alone = two.groupby("unit")["value"].sum()
    assert len(alone) > 4
    assert (together / alone).between(0.85, 1.15).all(), (together / alone).describe()


def test_where_everything_was_seen_there_is_nothing_to_look_for():
    day = str(AS_OF.date())
    book = Book().unit(mounting="keyed_bore", shaft_tolerance="h9").look(day, **ALL_GOOD)
    assessed_fleet = assessed_fleet_of_book(book)
    for state in Seen:
        looks = worth_of_looks(assessed_fleet, LookMinutes(), state)
        assert looks.empty, looks["check"].tolist()
        assert list(looks.columns) == list(COLUMNS_OF_LOOKS)
        route = plan_looks(looks, {"quarry": 4.0})
        assert route.visits.empty
        assert route.by_site["value"].tolist() == [0.0]


def test_where_nobody_ever_looked_everything_can_be_looked_for():
    assessed_fleet = assessed_fleet_of_book(Book().unit(mounting="keyed_bore").unit("U2"))
    looks = worth_of_looks(assessed_fleet, LookMinutes())
    assert (looks["why"] == NOT_SEEN).all()
    assert set(looks["unit_id"]) == {"U1", "U2"}
    assert (looks["value"] > 0).any()
    assert "engagement_mm" not in set(looks["check"]), "nobody knows what would be enough"
