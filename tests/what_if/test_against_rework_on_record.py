"""What-if equals the chain run on records to which the re-work was added, done on that day."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from generated_fleets import AS_OF, generated_assessor, generated_book
from questions import ACTION_NAMES, SEED, SIZE, ask, asked_fleet, every_single_action, mounting_of

from scoring.assessment import FleetAssessor
from scoring.contract.events import MODES
from scoring.what_if.action_arrays import FITS
from scoring.what_if.candidates import candidates_of
from scoring.what_if.known_after import known_after

ENDS = ("", "_low", "_high")
MOST = int(FITS.sum(axis=1).max())


def with_rework(actions):
    """Return the book with one row of re-work a unit, done on the as-of day."""
    book = generated_book(SIZE, SEED)
    rows = [
        {"rework_id": f"X{n}", "unit_id": unit, "done_on": str(AS_OF.date()), "actions": action}
        for n, (unit, action) in enumerate(actions.items())
    ]
    return FleetAssessor(replace(book, rework=[*book.rework, *rows]).fleet())


@pytest.fixture(scope="module")
def answers():
    _, assessment = asked_fleet()
    return ask(*every_single_action(assessment.known), success=None)


@pytest.mark.parametrize("turn", range(MOST))
def test_every_action_at_every_unit_is_as_if_it_were_on_record(answers, turn):
    """Each turn adds another of the actions that make sense to every unit."""
    _, assessment = asked_fleet()
    some = answers.groupby("unit").nth(turn)
    actions = dict(zip(some["unit_id"], some["actions"], strict=True))
    then = with_rework(actions).assess(AS_OF, learning=assessment.learning)
    at = then.known.units["unit_id"].reset_index().set_index("unit_id")["index"]
    place = at.loc[some["unit_id"]].to_numpy()
    for mode in MODES:
        for end in ENDS:
            expected = getattr(then.risk.modes[mode], (end or "_probability")[1:])[place]
            got = some[f"p_{mode}{end}_after"].to_numpy()
            assert got == pytest.approx(expected, rel=1e-10), (mode, end)
    assert some["verdict_after"].tolist() == np.asarray(then.verdicts.verdict)[place].tolist()
    loss = then.risk.expected_loss[place]
    assert some["expected_loss_after"].to_numpy() == pytest.approx(loss, rel=1e-10)


def test_every_action_was_asked_on_every_mounting_that_has_it(answers):
    _, assessment = asked_fleet()
    known = assessment.known
    unit, flags = every_single_action(known)
    asked = set(zip(mounting_of(known)[unit], flags.argmax(axis=1), strict=True))
    assert asked == set(zip(*np.nonzero(FITS), strict=True))
    assert len(answers) == len(unit)


def test_several_actions_are_as_if_they_were_on_record():
    _, assessment = asked_fleet()
    draw = np.random.default_rng(2)
    unit = np.arange(len(assessment.known.units))
    fit = FITS[mounting_of(assessment.known)]
    flags = (draw.random(fit.shape) < 0.15) & fit
    some = ask(unit, flags, success=None)
    actions = dict(zip(some["unit_id"], some["actions"], strict=True))
    asked = {unit_id: action for unit_id, action in actions.items() if action}
    then = with_rework(asked).assess(AS_OF, learning=assessment.learning)
    for mode in MODES:
        expected = then.risk.modes[mode].probability
        assert some[f"p_{mode}_after"].to_numpy() == pytest.approx(expected, rel=1e-10)
    assert some["verdict_after"].tolist() == np.asarray(then.verdicts.verdict).tolist()


@pytest.mark.parametrize("success", [None, "learned"])
def test_no_action_changes_nothing_to_the_last_digit(success):
    _, assessment = asked_fleet()
    unit = np.arange(len(assessment.known.units))
    answers = ask(unit, np.zeros((len(unit), len(ACTION_NAMES)), dtype=bool), success=success)
    for mode in MODES:
        for end in ENDS:
            ranked = getattr(assessment.risk.modes[mode], (end or "_probability")[1:])
            assert (answers[f"p_{mode}{end}"] == ranked).all()
            assert (answers[f"p_{mode}{end}_after"] == ranked).all()
    assert (answers["expected_loss_after"] == assessment.risk.expected_loss).all()
    assert (answers["loss_avoided"] == 0).all()
    assert (answers["verdict_after"] == answers["verdict"]).all()
    assert (answers["hours"] == 0).all()


def test_no_action_leaves_all_that_is_known_as_it_was():
    _, assessment = asked_fleet()
    known = assessment.known
    unit = np.arange(len(known.units))
    nothing = candidates_of(known, unit, np.zeros((len(unit), len(ACTION_NAMES)), dtype=bool))
    after = known_after(known, assessment.limits, nothing, None)
    for name in ("units", "found", "exceedance", "status", "seen_on"):
        assert getattr(after, name).equals(getattr(known, name)), name
    same = [name for name in known.history if name != "crew"]
    assert after.history[same].equals(known.history[same])
    assert after.history["crew"].astype(object).equals(known.history["crew"].astype(object))


def test_a_look_is_as_if_it_were_on_record():
    """But for prevalence, which learns from that look as well."""
    _, assessment = asked_fleet()
    book = generated_book(SIZE, SEED)
    units = assessment.known.units["unit_id"].tolist()
    look = {"oil_level": "low", "isolators_free": "0", "smallest_clearance_mm": "1.5"}
    rows = [
        {"walkdown_id": f"X{n}", "unit_id": unit, "inspected_on": str(AS_OF.date())}
        | {"kind": "periodic", **look}
        for n, unit in enumerate(units)
    ]
    then = FleetAssessor(replace(book, walkdowns=[*book.walkdowns, *rows]).fleet())
    stands = then.assess(AS_OF, learning=assessment.learning)
    looked = {"oil_level": "low", "isolators_free": 0.0, "smallest_clearance_mm": 1.5}
    values = pd.DataFrame([looked] * len(units))
    none = np.zeros((len(units), len(ACTION_NAMES)), dtype=bool)
    answers = ask(np.arange(len(units)), none, looked=values)
    assert answers["verdict_after"].tolist() == np.asarray(stands.verdicts.verdict).tolist()
    for mode in MODES:
        expected = stands.risk.modes[mode].probability
        assert answers[f"p_{mode}_after"].to_numpy() == pytest.approx(expected, rel=0.03)


def test_units_answered_with_others_or_alone_are_the_same():
    assert generated_assessor(SIZE, SEED) is asked_fleet()[0]
    _, assessment = asked_fleet()
    unit, flags = every_single_action(assessment.known)
    together = ask(unit, flags)
    alone = ask(unit[7::101], flags[7::101])
    for column in ("p_low_speed_bearing_after", "p_seal_leak_after", "expected_loss_after"):
        here = together[column].to_numpy()[7::101]
        assert alone[column].to_numpy() == pytest.approx(here, rel=1e-12)
