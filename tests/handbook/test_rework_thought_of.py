"""Re-work that is only hypothetical: it takes with a chance, else all stays as it was; by hand."""

from dataclasses import replace
from math import log

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from units_looked_at import evidence_of

from scoring.contract import CHECKS
from scoring.contract.mountings import SHRINK_DISCS
from scoring.handbook import grip_effect
from scoring.handbook.multipliers import log_mean_multipliers, multipliers
from scoring.timeline.known import HypotheticalRework, Status

SEAL = "seal_leak"


def thinking_of(book, **takes):
    """Return evidence of units at which the cures of some checks take with some chance."""
    evidence = evidence_of(book)
    known, names = evidence.known, list(takes)
    chances = pd.DataFrame({check.name: [np.nan] for check in CHECKS})
    chances = pd.concat([chances.assign(**takes)] * len(known.units), ignore_index=True)
    after = replace(
        known,
        found=known.found.assign(**{n: known.found[n].where(known.found[n].isna()) for n in names}),
        exceedance=known.exceedance.assign(**dict.fromkeys(names, np.nan)),
        status=known.status.assign(**dict.fromkeys(names, np.int8(Status.REPORTED_CURED))),
        hypothetical=HypotheticalRework(known, chances),
    )
    return replace(evidence, known=after)


def mean_and_spread(evidence, effect):
    found = multipliers(SEAL, evidence)
    mean = np.exp(found.log_mean[effect].to_numpy())
    quick = log_mean_multipliers(evidence)[SEAL][:, list(found.log_mean).index(effect)]
    assert quick == pytest.approx(found.log_mean[effect].to_numpy())
    assert set(found.basis[effect]) == {"reported cured"}
    return mean, found.unseen_variance[effect].to_numpy()


KEYED = Book().unit(mounting="keyed_bore")


@pytest.mark.parametrize(
    ("seen", "mean_before", "square_before"),
    [
        ({"breather": "plugged"}, 3, 9),
        ({"breather": "open"}, 1, 1),
        ({"guard": "fitted"}, 0.91 + 0.09 * 3, 0.91 + 0.09 * 9),  # nobody saw the breather
    ],
)
@pytest.mark.parametrize("take", [0.0, 0.6, 1.0])
def test_it_takes_or_all_stays_as_it_was(seen, mean_before, square_before, take):
    book = Book().unit(mounting="keyed_bore").look("2024-01-02", **seen)
    mean, spread = mean_and_spread(thinking_of(book, breather=take), "breather")
    expected = take + (1 - take) * mean_before
    square = take + (1 - take) * square_before
    assert mean == pytest.approx([expected])
    assert spread == pytest.approx([log(square / expected / expected)], abs=1e-12)


def test_after_re_work_on_record_it_may_take_this_time():
    book = Book().unit(mounting="keyed_bore").reworked("2024-02-01", "open_breather")
    mean, _ = mean_and_spread(thinking_of(book, breather=0.5), "breather")
    assert mean == pytest.approx([0.5 + 0.5 * (0.85 + 0.15 * 3)])


def leaks_with(left):
    """Leaks of a joint with so much of its grip, over those of a whole one: 1.5 with half of it."""
    return 1.5 ** (log(left) / log(0.5))


SHORT = leaks_with((0.9 * 0.7) ** 0.5)  # a fifth is missing: half way between a tenth and three
THREE_TENTHS = leaks_with(0.7)


def test_of_an_effect_that_two_checks_show_what_is_not_cured_still_counts():
    book = Book().unit(mounting="keyed_bore").look("2024-01-02", seated="home", shaft_end="short")
    evidence = thinking_of(book, shaft_end=0.4, engagement_mm=0.7)
    mean, _ = mean_and_spread(evidence, "grip")
    # the other cure alone leaves it short
    assert mean == pytest.approx([0.4 + 0.6 * SHORT], rel=1e-3)


def test_cures_of_one_job_succeed_together_as_far_as_their_chances_allow():
    book = Book().unit(mounting="keyed_bore", required_engagement_mm="100")
    book.look("2024-01-02", seated="home", shaft_end="short", engagement_mm="70")
    mean, _ = mean_and_spread(thinking_of(book, shaft_end=0.7, engagement_mm=0.4), "grip")
    # 0.3: neither succeeds; 0.3: the end reaches, yet three tenths were measured short; 0.4: both
    assert mean == pytest.approx([0.6 * THREE_TENTHS + 0.4], rel=1e-3)
    mean, _ = mean_and_spread(thinking_of(book, shaft_end=0.4, engagement_mm=0.7), "grip")
    assert mean == pytest.approx([0.3 * THREE_TENTHS + 0.3 * SHORT + 0.4], rel=1e-3)


def test_cures_of_different_causes_succeed_each_by_itself():
    plate = {"screw_torque_nm": "100", "screw_count": "8"}
    good = {"seated": "home", "shaft_end": "reaches", "shaft_seat": "sound", "collar_gap_mm": "1.5"}
    good |= {"shaft_diameter_measured_mm": "80", "torque_passes": "3", "tightening_order": "star"}
    book = Book().unit(mounting="tapered_bushing", **plate)
    book.look("2024-01-02", **good, bore_condition="oil_film", final_torque_nm="80")
    mean, _ = mean_and_spread(thinking_of(book, bore_condition=0.6, final_torque_nm=0.5), "grip")
    oil = 0.8400667
    expected = 0.3 + 0.2 * leaks_with(oil) + 0.3 * leaks_with(0.8) + 0.2 * leaks_with(0.8 * oil)
    assert mean == pytest.approx([expected], rel=2e-3)


def test_each_unit_keeps_what_was_seen_of_it():
    book = Book().unit("U1", mounting="keyed_bore").unit("U2", mounting="keyed_bore")
    book.look("2024-01-02", "U2", breather="plugged").look("2024-01-02", "U1", breather="open")
    mean, _ = mean_and_spread(thinking_of(book, breather=0.5), "breather")
    assert mean == pytest.approx([1, 2])


def short_in_a_disc(mounting="shrink_disc", engaged="144", unit_id="U1", book=None):
    """Return a joint seen whole, all good but a tenth of its engagement; 0.75 are left."""
    plate = {"screw_torque_nm": "100", "screw_count": "8", "required_engagement_mm": "160"}
    good = {"seated": "home", "shaft_seat": "sound", "disc_offset_mm": "0", "screws_low": "0"}
    good |= {
        "shaft_diameter_measured_mm": "80",
        "torque_passes": "3",
        "tightening_order": "circular",
    }
    good |= {"bore_condition": "clean_dry", "final_torque_nm": "100", "screws_missing": "0"}
    if mounting not in SHRINK_DISCS:
        del good["disc_offset_mm"], good["tightening_order"]
    book = (book or Book()).unit(unit_id, mounting=mounting, **plate)
    return book.look("2024-01-02", unit_id, **good, engagement_mm=engaged)


def test_the_cure_of_a_joint_not_relied_on_is_credited_what_it_likely_lost():
    evidence = thinking_of(short_in_a_disc(), engagement_mm=1.0)
    # judged by the worst, 1.5; likely that in one of twenty, else three quarters of its grip
    likely = 0.05 * 1.5 + 0.95 * leaks_with(0.75)
    withheld = np.exp(grip_effect.log_not_credited(SEAL, evidence))
    assert withheld == pytest.approx([1.5 - likely + 1], rel=1e-3)


def test_all_is_credited_where_a_joint_was_relied_on_or_still_is_not():
    bushing = thinking_of(short_in_a_disc("tapered_bushing"), engagement_mm=1.0)
    as_it_stands = evidence_of(short_in_a_disc())
    of_something_else = thinking_of(short_in_a_disc(), breather=1.0)
    for evidence in (bushing, as_it_stands, of_something_else):
        assert grip_effect.log_not_credited(SEAL, evidence).tolist() == [0.0]


def test_what_is_not_credited_is_told_of_each_joint_by_itself():
    joints = ("shrink_disc", "144"), ("tapered_bushing", "144"), ("shrink_disc", "120")
    book = Book()
    for number, joint in enumerate(joints):
        short_in_a_disc(*joint, f"U{number}", book)
    together, *alone = (
        grip_effect.log_not_credited(SEAL, thinking_of(one, engagement_mm=1.0)).tolist()
        for one in (book, *(short_in_a_disc(*joint) for joint in joints))
    )
    assert together == [one for (one,) in alone]
    assert together[0] > 0 == together[1]
    assert together[2] > 0
