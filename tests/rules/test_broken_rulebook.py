"""A rulebook that contradicts itself is refused as it is loaded, before any command starts."""

import runpy
from dataclasses import replace

import pytest

from scoring.rules import housing, rulebook


def load_with(rules, monkeypatch):
    monkeypatch.setattr(housing, "HOUSING_RULES", tuple(rules))
    return runpy.run_path(rulebook.__file__)


def test_the_rulebook_as_it_stands_is_loaded(monkeypatch):
    loaded = load_with(housing.HOUSING_RULES, monkeypatch)
    assert loaded["RULE_BY_NAME"].keys() == rulebook.RULE_BY_NAME.keys()


def test_two_rules_of_one_name_are_refused(monkeypatch):
    rules = housing.HOUSING_RULES
    with pytest.raises(AssertionError, match="two rules bear one name"):
        load_with([*rules, rules[0]], monkeypatch)


def test_an_action_that_does_not_cure_its_check_is_refused(monkeypatch):
    first = next(rule for rule in housing.HOUSING_RULES if rule.check == "breather")
    wrong = [
        replace(one, action="fit_guard") if one is first else one for one in housing.HOUSING_RULES
    ]
    with pytest.raises(AssertionError, match="fit_guard does not cure breather"):
        load_with(wrong, monkeypatch)
