"""The value of looking equals an expectation over walkdowns that were really written down."""

import numpy as np
import pandas as pd
import pytest
from generated_fleets import generated_book
from naive_value import naive_value
from standing_fleets import SEED, SIZE, generated_standing

from scoring.contract import Seen
from scoring.looking.value_of_looking import each_by_itself, value_of_looking
from scoring.looking.what_looks_may_find import what_looks_may_find


@pytest.mark.parametrize("state", list(Seen))
def test_each_look_is_worth_what_the_long_way_says(state):
    standing = generated_standing()
    outcomes = what_looks_may_find(standing, state)
    questions = each_by_itself(outcomes)
    table = questions.merge(value_of_looking(standing, outcomes, questions), on="question")
    table = table.sort_values("value", ascending=False)
    best = table.groupby("check").head(1)
    some = pd.concat(
        [best.head(4), best.sample(2, random_state=1), table.sample(1, random_state=2)]
    )
    book = generated_book(SIZE, SEED)
    for look in some.to_dict("records"):
        check = [look["check"]]
        expected = naive_value(book, standing, outcomes, look["unit"], check, check)
        assert look["value"] == pytest.approx(expected, rel=1e-6, abs=1e-6), look
    assert (some["value"] > 0).any() or state is Seen.RUNNING


@pytest.mark.parametrize("both_seen", [True, False])
def test_two_checks_at_once_are_worth_what_the_long_way_says(both_seen):
    standing = generated_standing()
    outcomes = what_looks_may_find(standing)
    looks = each_by_itself(outcomes)
    draw = np.random.default_rng(5)
    units = [unit for unit, count in looks["unit"].value_counts().items() if count > 1]
    book, rows, asked = generated_book(SIZE, SEED), [], []
    for n, unit in enumerate(draw.choice(units, 2, replace=False)):
        checks = draw.permutation(looks.loc[looks["unit"] == unit, "check"])[:2].tolist()
        seen = checks if both_seen else checks[:1]
        asked.append((unit, checks, seen))
        rows += [{"question": n, "unit": unit, "check": c, "seen": c in seen} for c in checks]
    value = value_of_looking(standing, outcomes, pd.DataFrame(rows))["value"]
    for got, (unit, checks, seen) in zip(value, asked, strict=True):
        expected = naive_value(book, standing, outcomes, unit, checks, seen)
        assert got == pytest.approx(expected, rel=1e-6, abs=1e-6), (unit, checks)
