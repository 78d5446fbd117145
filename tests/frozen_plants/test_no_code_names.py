"""What a person reads names nothing as tables do: no word with an underscore."""

import re

import pandas as pd
import pytest
from frozen_answers import HERE, PLANTS, QUESTIONS

from scoring.contract.cautions import CAUTIONS
from scoring.contract.rework import ACTIONS
from scoring.rules.cure_of_a_finding import CURES_BY_CAUSE
from scoring.rules.rulebook import RULE_BY_NAME

READ_BY_PEOPLE = ("main_reasons", "first_action", "not_seen", "assumed", "why")
CODE_NAME = re.compile(r"\w+_\w+")


@pytest.mark.parametrize("question", QUESTIONS)
@pytest.mark.parametrize("plant", PLANTS)
def test_reasons_actions_and_whys_of_the_kept_plants_are_words(plant, question):
    kept = pd.read_csv(HERE / "answers" / f"{plant}_{question}.csv", dtype="str")
    read = [words for name in READ_BY_PEOPLE if name in kept for words in kept[name].dropna()]
    assert len(read) > 0
    assert [words for words in read if CODE_NAME.search(words)] == []


def test_rules_cures_and_cautions_are_words():
    said = [CAUTIONS, *(one.note for one in CURES_BY_CAUSE)]
    for action in ACTIONS:
        effort = action.effort
        said += [action.does, effort.caution or "", effort.who, *effort.tools, *effort.parts]
    for rule in RULE_BY_NAME.values():
        # a value, limit or the like is put where its name stands in braces
        said += [re.sub(r"\{\w+\}", "", rule.reason), rule.why, rule.origin]
    assert len(said) > 100
    assert [words for words in said if CODE_NAME.search(words)] == []
