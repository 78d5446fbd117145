"""The value of looking equals an expectation over walkdowns that were really written down."""

import pandas as pd
import pytest
from assessed_fleets import SEED, SIZE, generated_assessed_fleet
from generated_fleets import generated_book
from naive_value import Asked, naive_values

from scoring.contract import Seen
from scoring.looking.value_of_looking import each_by_itself, value_of_looking
from scoring.looking.what_looks_may_find import what_looks_may_find


def one_of_each_unit(looks):
    """Take looks so that every check and reason comes as often as can be, a unit once."""
    mixed = looks.sample(frac=1, random_state=3)
    mixed["turn"] = mixed.groupby("check").cumcount()
    return mixed.sort_values("turn", kind="stable").drop_duplicates("unit")


@pytest.mark.parametrize("state", list(Seen))
def test_each_look_is_worth_what_the_long_way_says(state):
    assessed_fleet = generated_assessed_fleet()
    outcomes = what_looks_may_find(assessed_fleet, state)
    questions = each_by_itself(outcomes)
    table = questions.merge(value_of_looking(assessed_fleet, outcomes, questions), on="question")
    some = one_of_each_unit(table)
    asked = [
        Asked(unit, (check,), (check,))
        for unit, check in zip(some["unit"], some["check"], strict=True)
    ]
    expected = naive_values(generated_book(SIZE, SEED), assessed_fleet, outcomes, asked)
    assert some["value"].to_numpy() == pytest.approx(expected, rel=1e-6, abs=1e-6)
    assert (some["value"] > 0).any() or state is Seen.RUNNING


@pytest.mark.parametrize("seen", [2, 1])
def test_two_checks_at_once_are_worth_what_the_long_way_says(seen):
    assessed_fleet = generated_assessed_fleet()
    outcomes = what_looks_may_find(assessed_fleet)
    looks = each_by_itself(outcomes).sample(frac=1, random_state=5)
    few = outcomes.groupby(["unit", "check"]).size().rename("size").reset_index()
    looks = looks.merge(few[few["size"] <= 3], on=["unit", "check"])
    pairs = looks.groupby("unit")["check"].agg(tuple)
    asked = [
        Asked(unit, checks[:2], checks[:seen]) for unit, checks in pairs.items() if len(checks) > 1
    ]
    rows = [
        {"question": n, "unit": one.unit, "check": check, "seen": check in one.seen}
        for n, one in enumerate(asked)
        for check in one.checks
    ]
    value = value_of_looking(assessed_fleet, outcomes, pd.DataFrame(rows))["value"]
    expected = naive_values(generated_book(SIZE, SEED), assessed_fleet, outcomes, asked)
    assert value.to_numpy() == pytest.approx(expected, rel=1e-6, abs=1e-6)
    assert len(asked) > 5
