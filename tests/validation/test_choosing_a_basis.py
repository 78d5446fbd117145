"""A correction that predicts worse is refused; one that could hardly be tried is used."""

from dataclasses import replace

import pytest
from generated_fleets import failures_not_kept
from tried_fleets import book_of_sites, rows_of_sites, validated

from scoring.learning.learned import learn
from scoring.validation import choose_basis as module
from scoring.validation.choose_basis import FEW_FAILURES, try_and_choose

MANY = (400, 3)
FEW = (60, 5)


def bad_in(part):
    """Make what is learned bad: its columns turned round, or its level."""

    def learned_badly(rows, by=-1, only=None):
        learned = learn(rows, by, only)
        return {mode: _spoilt(one, part).ratio for mode, one in learned.modes.items()}

    return learned_badly


def _spoilt(one, part):
    coefficients = one.posterior.coefficients.copy()
    if part == "level":
        coefficients[-1] += 1.5
    else:
        coefficients[:-1] *= -4
    return replace(one, posterior=replace(one.posterior, coefficients=coefficients))


def test_what_is_learned_is_used_where_it_predicts_no_worse():
    basis, table = try_and_choose(rows_of_sites(*MANY))
    seals = basis["seal_leak"]
    failed = table.loc[table["failure_mode"] == "seal_leak", "failed"].sum()
    assert seals.failures == failed >= FEW_FAILURES
    assert seals.used
    assert seals.words == "handbook and fleet"
    assert f"tried on {failed} later failures" in seals.why


@pytest.mark.parametrize("part", ["columns", "level"])
def test_what_is_truly_bad_is_refused(part, monkeypatch):
    monkeypatch.setattr(module, "learn_ratios", bad_in(part))
    basis, _ = try_and_choose(rows_of_sites(*MANY))
    seals = basis["seal_leak"]
    assert not seals.used
    assert seals.words == "handbook"
    assert "predicted worse than the handbook" in seals.why
    worse = {"level": seals.likelihood.worse, "columns": seals.proportions.worse}
    assert worse[part]
    assert part == "columns" or not seals.proportions.worse


def test_few_failures_speak_against_nothing():
    basis, _ = try_and_choose(rows_of_sites(*FEW))
    bearings = basis["low_speed_bearing"]
    assert bearings.failures < FEW_FAILURES
    assert bearings.used
    assert bearings.why == (
        f"only {bearings.failures} later failures to try it on: too few to speak against it"
    )


def test_where_failures_are_not_kept_the_handbook_stands_alone():
    basis = validated(failures_not_kept(book_of_sites(*FEW))).basis
    for one in basis.values():
        assert not one.used
        assert one.learned is None
        what = "slips" if one.mode == "joint_slip" else "failures"
        assert one.why.startswith(f"{what} of this fleet are not kept for any time on record")
