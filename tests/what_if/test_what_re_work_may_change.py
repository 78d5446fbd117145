"""What must hold of every answer: no cure harms, more cures never avoid less, order is nothing."""

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from questions import EPS, ask, asked_fleet, every_single_action, random_sets

from scoring.contract.events import MODES
from scoring.contract.rework_settings import REWORK_SETTINGS
from scoring.intake import RawTable
from scoring.limits import unit_limits
from scoring.rules.rule import Severity
from scoring.rules.what_cures import CURES_BY_PART
from scoring.timeline.needs_a_part import needs_a_part
from scoring.what_if.action_arrays import (
    ACTION_NAMES,
    CHECK_NAMES,
    CURES,
    NEW_BEARING,
    NEW_SEAL,
    OFF_SHAFT,
    actions_of,
    words_of_actions,
)
from scoring.what_if.candidates import candidates_of
from scoring.what_if.known_after import known_after
from scoring.what_if.rework_success import ReworkSuccess, learn_rework_success, rework_success
from scoring.what_if.site_efforts import read_settings

ONLY_CURES = ~(OFF_SHAFT | NEW_BEARING | NEW_SEAL)
"""Actions that leave the unit on its shaft and renew nothing."""


def known():
    return asked_fleet()[1].known


def certain():
    many = np.full(len(ACTION_NAMES), 10**9)
    return rework_success(many, many)


def test_loss_avoided_is_never_negative():
    unit, flags = random_sets(known(), seed=5, rows=2000)
    assert (ask(unit, flags)["loss_avoided"] >= 0).all()


def test_a_cure_on_the_shaft_never_raises_a_chance():
    """Not even where nothing was wrong: what does not succeed leaves a check as it was."""
    unit, flags = random_sets(known(), seed=6, rows=2000)
    answers = ask(unit, flags & ONLY_CURES)
    for mode in MODES:
        assert (answers[f"p_{mode}_after"] <= answers[f"p_{mode}"] + EPS).all()
    assert (answers["expected_loss_after"] <= answers["expected_loss"] + EPS).all()


@pytest.mark.parametrize("seed", range(3))
def test_more_cures_never_avoid_less(seed):
    unit, flags = random_sets(known(), seed=10 + seed, rows=1500)
    _, more = random_sets(known(), seed=10 + seed, rows=1500, share=0.45)
    fewer = ask(unit, flags & more & ONLY_CURES)
    all_of_them = ask(unit, more & ONLY_CURES)
    tolerance = EPS * (1 + fewer["loss_avoided"])
    assert (all_of_them["loss_avoided"] >= fewer["loss_avoided"] - tolerance).all()


def test_a_likelier_cure_avoids_more():
    unit, flags = random_sets(known(), seed=8, rows=1500)
    flags &= ONLY_CURES
    surer = ask(unit, flags, success=certain())
    assert (surer["loss_avoided"] >= ask(unit, flags)["loss_avoided"] - 1e-6).all()


def test_a_cure_that_surely_takes_leaves_no_open_finding_of_its_checks():
    assessor, assessment = asked_fleet()
    unit, flags = every_single_action(assessment.known)
    after = known_after(
        assessment.known,
        assessment.limits,
        candidates_of(assessment.known, unit, flags),
        learn_rework_success(assessor.timeline, assessment.known.as_of).chance,
    )
    cured = (flags.astype(int) @ CURES.astype(int)) > 0
    by_part = needs_a_part(assessment.known.at(unit))
    cured &= ~by_part | ((flags.astype(int) @ CURES_BY_PART.astype(int)) > 0)
    touches = (assessment.known.exceedance["metal_contact"] > 0).to_numpy()[unit]
    cured[:, CHECK_NAMES.index("metal_contact")] &= ~touches  # that takes what its place asks for
    assert after.exceedance.to_numpy()[cured].size
    assert np.isnan(after.exceedance.to_numpy()[cured]).all()


def test_holds_can_be_cleared_and_cures_make_none():
    """A fault found stays a hold until its own cure; no cure on the shaft makes one."""
    unit, flags = random_sets(known(), seed=9, rows=3000)
    answers = ask(unit, flags & ONLY_CURES)
    assert not ((answers["verdict"] != "hold") & (answers["verdict_after"] == "hold")).any()
    open_findings = asked_fleet()[1].findings.open()
    held = open_findings[open_findings["severity"] == Severity.HOLD]
    one = held.drop_duplicates("unit", keep=False)
    all_actions = np.zeros((len(one), len(ACTION_NAMES)), dtype=bool)
    for row, action in enumerate(one["action"]):
        all_actions[row] = actions_of(action)
    cleared = ask(one["unit"].to_numpy(), all_actions)
    assert cleared["clears_hold"].all()


def test_order_and_repetition_of_actions_do_not_matter():
    one, other = actions_of("renew_key;fit_guard"), actions_of(" fit_guard;renew_key;fit_guard ")
    assert (one == other).all()
    assert words_of_actions(one[np.newaxis]).tolist() == ["renew_key;fit_guard"]


def hung_anew(success):
    _, assessment = asked_fleet()
    unit = np.arange(len(assessment.known.units))
    flags = np.tile(actions_of("reseat_on_shaft"), (len(unit), 1))
    sets = candidates_of(known(), unit, flags)
    return known_after(assessment.known, assessment.limits, sets, success)


def test_a_unit_hung_anew_is_of_a_crew_nobody_knows():
    after = hung_anew(None)
    assert after.history["crew"].isna().all()
    assert (after.history["hung_on"] == known().as_of).all()
    same = after.history["bearing_age_days"] == known().history["bearing_age_days"]
    assert same.all()


@pytest.mark.parametrize("as_on_record", [True, False])
def test_hung_anew_good_looks_at_joint_and_arm_are_lost_and_findings_stand(as_on_record):
    after, n_bad = hung_anew(None if as_on_record else certain().chance), 0
    for check in ("bore_condition", "arm_bolts", "isolators_free", "guard", "oil_level"):
        bad = (known().exceedance[check] > 0).to_numpy()
        n_bad += int(bad.sum())
        assert after.found[check][bad].equals(known().found[check][bad])
        assert (after.status[check][~bad] == 0).all()
    assert n_bad > 10
    for check in ("shaft_runout_mm", "shaft_diameter_measured_mm", "seal_weep", "breather"):
        assert after.found[check].equals(known().found[check])
    for check in ("torque_passes", "tightening_order", "final_torque_nm", "disc_offset_mm"):
        assert after.found[check].isna().all()
        assert (after.status[check] == 0).all()


def test_pushing_a_unit_home_lengthens_no_shaft():
    book = Book()
    for name, seated, end in (
        ("A", "home", "short"),
        ("B", "short", "short"),
        ("C", "home", "reaches"),
    ):
        book.unit(name).look("2024-01-02", name, seated=seated, shaft_end=end)
    now = book.known("2024-02-01")
    unit = np.arange(3)
    for action, left in (
        ("reseat_on_shaft", ["short", None, "reaches"]),
        ("renew_shaft", [None] * 3),
    ):
        sets = candidates_of(now, unit, np.tile(actions_of(action), (3, 1)))
        after = known_after(now, unit_limits(now.units), sets, certain().chance)
        found = after.found["shaft_end"].astype(object)
        assert found.where(found.notna(), None).tolist() == left
        assert (after.status["shaft_end"] == 2).tolist() == [value is None for value in left]
        assert (after.status["seated"] == (2 if action == "reseat_on_shaft" else 0)).all()


@pytest.mark.parametrize(
    ("place", "actions", "chance"),
    [
        ("motor", "restore_clearance", 0.8),
        ("motor", "restore_isolation", None),
        ("washer_stack", "restore_isolation", 0.9),
        ("washer_stack", "restore_clearance", None),
        ("", "restore_isolation", None),
        ("", "restore_isolation;restore_clearance", 0.9 * 0.8),
        ("motor;washer_stack", "restore_isolation;restore_clearance", 0.9 * 0.8),
    ],
)
def test_metal_contact_is_cured_where_it_touches_or_everywhere(place, actions, chance):
    book = Book().unit().look("2024-01-02", metal_contact="yes", contact_at=place)
    now = book.known("2024-02-01")
    success = np.ones(len(ACTION_NAMES))
    success[[ACTION_NAMES.index(n) for n in ("restore_isolation", "restore_clearance")]] = 0.9, 0.8
    sets = candidates_of(now, np.array([0]), actions_of(actions)[np.newaxis])
    after = known_after(now, unit_limits(now.units), sets, success)
    thought = after.hypothetical.success["metal_contact"].iloc[0]
    if chance is None:
        assert after.found["metal_contact"].iloc[0] == "yes"
        assert np.isnan(thought)
        assert after.history["contact_at"].iloc[0] == place or not place
    else:
        assert after.status["metal_contact"].iloc[0] == 2
        assert thought == pytest.approx(chance)
        assert pd.isna(after.history["contact_at"].iloc[0])


def settings(*rows):
    headings = [column.name for column in REWORK_SETTINGS.columns]
    cells = [[row.get(name, "") for name in headings] for row in rows]
    raw = RawTable.from_rows("rework_settings", "ours.csv", headings, cells)
    return read_settings(raw, known().units["site"])


def test_a_site_s_own_settings_change_what_work_takes_there_and_no_risk():
    site = str(known().units["site"].iloc[0])
    unit, flags = every_single_action(known())
    usual = ask(unit, flags)
    ours = ask(
        unit,
        flags,
        efforts=settings(
            {"action": "fit_guard", "hours": "7"},
            {"site": site, "action": "fit_guard", "hours": "9", "people": "4", "crane": "yes"},
            {"site": site, "action": "lock_out", "hours": "0", "line_stops": "no"},
        ),
    )
    work = ["hours", "people", "crane", "line_stops", "lead_days", "cost"]
    pd.testing.assert_frame_equal(usual.drop(columns=work), ours.drop(columns=work))
    here = ours["site"] == site
    guard = ours["actions"] == "fit_guard"
    assert (ours.loc[guard & here, "hours"] == 9).all()  # and no hour for the lock-out
    assert (ours.loc[guard & here, ["people", "crane"]] == [4, True]).all(axis=None)
    assert (ours.loc[guard & ~here, "hours"] == 8).all()
    assert (usual.loc[guard, "hours"] == 3).all()


def test_set_ups_are_shared():
    unit = np.flatnonzero(known().units["mounting"] == "shrink_disc")[:1]
    names = ("retorque_in_passes", "recentre_disc", "reseat_on_shaft", "true_shaft")
    apart = sum(ask(unit, actions_of(name)[np.newaxis])["hours"].iloc[0] for name in names)
    together = ask(unit, actions_of(";".join(names))[np.newaxis]).iloc[0]
    assert together["hours"] == 3 + 4 + 4 + 12 + 1 + 1 + 2 + 10
    assert together["hours"] < apart
    assert together["people"] == 3
    assert together["crane"]


def test_re_work_that_never_takes_avoids_nothing():
    assessor, assessment = asked_fleet()
    learned = learn_rework_success(assessor.timeline, assessment.known.as_of)
    never = ReworkSuccess(learned.table.assign(chance=0.0))
    unit, flags = every_single_action(known())
    on_shaft = ~(flags & ~ONLY_CURES).any(axis=1)
    nothing = ask(unit[on_shaft], flags[on_shaft], success=never)
    assert nothing["loss_avoided"].max() == pytest.approx(0, abs=1e-6)
