"""What is declared of faults fits the contract."""

import pytest

from demo_data.fault_arrays import IS_FAULT
from demo_data.fault_model import LEAST_MEAN_EFFECT, FaultModel, MeanEffect
from demo_data.fault_table import CHECK_AT, DECLARED, FAULTS
from demo_data.true_effects import ABOVE_MEAN, EFFECT_SD, SHARE_NULL
from scoring.contract import CHECKS
from scoring.contract.rework import ACTION_BY_NAME, with_brought
from scoring.contract.walkdowns import CHECK_BY_NAME


def test_each_is_declared_once_and_comes_in_the_contracts_order() -> None:
    names = [model.check for model in DECLARED]
    assert len(set(names)) == len(names)
    causes = [check.name for check in CHECKS if not check.symptom]
    assert set(names) <= set(causes)
    assert [model.check for model in FAULTS] == [name for name in causes if name in set(names)]


@pytest.mark.parametrize("model", DECLARED, ids=lambda model: model.check)
def test_a_fault_fits_its_check(model: FaultModel) -> None:
    check = CHECK_BY_NAME[model.check]
    words = [outcome.word for outcome in model.outcomes]
    named_by_mounting = {"right", "wrong"}
    assert all((word == "") == check.is_numeric for word in words)
    assert check.is_numeric or set(words) <= {*check.allowed, *named_by_mounting}
    faults = IS_FAULT[CHECK_AT[model.check]][: len(words)]
    for which in (faults, ~faults):
        shares = [o.share for o, is_so in zip(model.outcomes, which, strict=True) if is_so]
        assert sum(shares) == pytest.approx(1)
    assert not faults[0]
    assert model.service_rate == 0 or faults[model.service_outcome]


WITNESS_MARK = "witness_mark"


@pytest.mark.parametrize("model", DECLARED, ids=lambda model: model.check)
def test_a_cure_cures(model: FaultModel) -> None:
    assert model.cure is not None
    for name in {model.cure.usual, model.cure.other or model.cure.usual}:
        cured = {check for action in with_brought(name) for check in action.cures}
        if model.check == WITNESS_MARK:  # it ends when the seat is seen, off the shaft
            assert any(action.off_shaft for action in with_brought(name))
        else:
            assert model.check in cured, name
    assert set(model.seen_during) <= set(ACTION_BY_NAME)


def test_what_is_said_of_two_checks_names_both_once() -> None:
    pairs = [(m.check, m.together.other) for m in DECLARED if m.together is not None]
    named = [name for pair in pairs for name in pair]
    assert len(set(named)) == len(named)
    others = [b.other for m in DECLARED for b in m.brings]
    shown = [(m, CHECK_AT[m.shows]) for m in DECLARED if m.shows]
    assert {*named, *others} <= set(CHECK_AT)
    for model, at in shown:
        assert len(model.outcomes) == len(FAULTS[at].outcomes)
        assert model.hang_rate == model.service_rate == 0


@pytest.mark.parametrize("mean", [0.1, -0.2, float("nan")])
def test_a_mean_effect_that_cannot_be_drawn_is_refused_where_it_is_declared(mean: float) -> None:
    with pytest.raises(ValueError, match=f"the mean effect on seal is {mean}; it is 0 or at least"):
        MeanEffect(bearing=0.2, seal=mean)


def test_the_least_mean_effect_leaves_room_for_the_scatter() -> None:
    """A beta distribution on 0 to m has less spread than a coin's: sd² < c (m - c)."""
    centre = LEAST_MEAN_EFFECT / (1 - SHARE_NULL)
    assert centre * ABOVE_MEAN > EFFECT_SD**2
