"""Shares of how much grip is lost: moved, spread, averaged; every way by hand."""

from dataclasses import replace

import numpy as np
import pytest
from fleets import Book
from hypothesis import given
from hypothesis import strategies as st
from units_looked_at import evidence_of

from scoring.contract.mountings import CLAMPED, EVERY_MOUNTING, TAPERED_BUSHING
from scoring.handbook.grip_effect import (
    grip_multiplier,
    grip_where_nobody_looked,
    usual_hazard,
    usual_slips,
)
from scoring.handbook.grip_loss import (
    grip_loss,
    grip_loss_where_nobody_looked,
    usual_grip_loss,
)
from scoring.handbook.prevalence import Prevalence
from scoring.handbook.shares_of_losses import LOSSES, at_a_loss, lose, spread_over
from scoring.handbook.what_lowers_grip import GRIP_FAULTS

SHORT_IN_A_DISC = {"required_engagement_mm": "160"}


def mean_left(shares):
    """Mean of the grip that is left, over the shares of what is lost."""
    return shares @ np.exp(-LOSSES)


def book_of(mounting, plate=None, **seen):
    book = Book().unit(mounting=mounting, **(plate or {}))
    return book.look("2024-01-02", **seen) if seen else book


@given(st.lists(st.floats(0, 2.9), min_size=1, max_size=5), st.floats(0, 2))
def test_a_certain_loss_has_its_own_mean_and_moves_by_what_is_lost_more(losses, more):
    shares = at_a_loss(np.array(losses))
    assert shares.sum(axis=1) == pytest.approx(1)
    finite = LOSSES[:-1]
    assert shares[:, :-1] @ finite == pytest.approx(losses)
    moved = lose(shares, np.full(len(losses), more))
    assert moved.sum(axis=1) == pytest.approx(1)
    assert (moved >= -1e-12).all()
    here = np.array(losses) + more < finite[-1] - 0.1
    assert (moved[:, :-1] @ finite)[here] == pytest.approx((np.array(losses) + more)[here])


@given(st.floats(0, 3), st.floats(0, 3))
def test_a_greater_loss_has_less_of_every_smaller_one(one, other):
    less, more = at_a_loss(np.array(sorted((one, other))))
    assert (np.cumsum(more) <= np.cumsum(less) + 1e-12).all()


def test_what_is_not_relied_on_stays_so():
    shares = at_a_loss(np.array([0.2, np.inf]))
    gone = lose(shares, np.array([np.inf, 0.3]))
    assert gone[:, -1].tolist() == [1, 1]
    assert gone[:, :-1].sum() == 0


def test_states_average_by_their_shares():
    shares = spread_over(at_a_loss(np.zeros(1)), (1.0, 0.5, 0.0), np.array([[0.7, 0.2, 0.1]]))
    assert mean_left(shares)[0] == pytest.approx(0.7 + 0.2 * 0.5, rel=1e-3)
    assert shares[0, -1] == pytest.approx(0.1)


@pytest.mark.parametrize("mounting", CLAMPED)
def test_where_nobody_looked_the_mean_left_is_the_product_of_the_means(mounting):
    product = 1.0
    for fault in GRIP_FAULTS:
        if mounting in fault.mountings:
            product *= np.dot(fault.usual, fault.ratios)
    assert mean_left(usual_grip_loss(mounting)) == pytest.approx(product, rel=5e-3)
    evidence = evidence_of(Book().unit(mounting=mounting))
    assert grip_loss_where_nobody_looked(evidence)[0] == pytest.approx(usual_grip_loss(mounting))


def test_of_what_nobody_saw_each_crew_leaves_its_own_share_behind():
    """Crew A sets half of all collars wrong, wholly; anybody else does as the handbook says."""
    book = Book().unit("U1", installer="crew A").unit("U2", installer="crew B").unit("U3")
    of_crews = [(0.5, 0.0, 0.5), (0.88, 0.08, 0.04)]
    learned = Prevalence(("crew A",), {"collar_gap": np.array([of_crews] * len(EVERY_MOUNTING))})
    plain = evidence_of(book)
    with_crews = replace(plain, prevalence=learned)
    usual, told = (mean_left(grip_loss(one)) for one in (plain, with_crews))
    by_hand = (0.5 + 0.5 * 0.8) / (0.88 + 0.08 * 0.9 + 0.04 * 0.8)
    assert told / usual == pytest.approx([by_hand, 1, 1], rel=2e-3)


def test_what_was_seen_is_lost_for_sure_and_the_rest_is_as_usual():
    dirty = evidence_of(book_of(TAPERED_BUSHING, bore_condition="antiseize_or_grease"))
    clean = evidence_of(book_of(TAPERED_BUSHING, bore_condition="clean_dry"))
    ratio = dirty.grip.factors["friction"][0]
    assert ratio < 0.6
    left = [mean_left(grip_loss(one))[0] for one in (clean, dirty)]
    assert left[1] / left[0] == pytest.approx(ratio, rel=5e-3)


@pytest.mark.parametrize(
    ("seen", "action", "check"),
    [
        ({"bore_condition": "oil_film"}, "clean_and_refit", "bore_condition"),
        ({"final_torque_nm": "40"}, "retorque_in_passes", "final_torque_nm"),
    ],
)
def test_what_was_reported_cured_is_lost_with_the_chance_that_it_did_not_take(seen, action, check):
    plate = {"screw_torque_nm": "80", "screw_count": "8"}
    book = book_of(TAPERED_BUSHING, plate, **seen).reworked("2024-02-01", action)
    evidence = evidence_of(book)
    assert check not in evidence.known.found.dropna(axis=1)
    fault = next(f for f in GRIP_FAULTS if check in f.checks)
    faulty = np.array(fault.usual[1:])
    if_not = np.dot(faulty / faulty.sum(), fault.ratios[1:])
    others = 1.0
    for other in GRIP_FAULTS:
        if TAPERED_BUSHING in other.mountings and evidence.looked(other).unseen[0]:
            others *= np.dot(other.usual, other.ratios)
    left = mean_left(grip_loss(evidence))[0]
    if check == "bore_condition":
        # cleaning brings a re-torque: the screws were reported cured, too
        assert left < 0.85 + 0.15 * if_not
    else:
        assert left <= (0.85 + 0.15) * others
    assert left > 0.8 * others


def test_a_shaft_short_in_a_disc_is_as_bad_as_it_gets():
    short = evidence_of(book_of("shrink_disc", SHORT_IN_A_DISC, engagement_mm="150"))
    assert not short.grip.relied_on[0]
    assert grip_loss(short)[0, -1] == 1
    greasy = evidence_of(book_of("shrink_disc", bore_condition="antiseize_or_grease"))
    worst, bad = (grip_multiplier("joint_slip", one).mean[0] for one in (short, greasy))
    assert worst > 3 * bad > 3


@pytest.mark.parametrize("mounting", CLAMPED)
def test_usual_joints_slip_at_the_field_rate_however_little_is_known_of_them(mounting):
    """Of a usual joint known badly, and one known well, hazards over years are near 0.003."""
    assert 0.3 < usual_slips(mounting) < 3
    for spread in (0.075, 0.15, 0.25):
        assert usual_hazard(mounting, spread) == pytest.approx(0.003, rel=0.1)


def test_a_keyed_bore_has_no_grip_to_lose():
    evidence = evidence_of(book_of("keyed_bore", bore_condition="antiseize_or_grease"))
    grip = grip_multiplier("joint_slip", evidence)
    assert (grip.mean[0], grip.unseen_variance[0], grip.known_badly[0]) == (1, 0, 0)
    assert grip_where_nobody_looked("joint_slip", evidence)[0] == 1


def test_a_margin_on_record_counts_the_more_the_better_it_is_known():
    """Half the rating: known well it multiplies slips by much, with torque assumed by less."""

    def times(**plate):
        plates = [{"joint_rated_torque_nm": rated, **plate} for rated in ("7200", "3600")]
        both = [evidence_of(Book().unit(mounting=TAPERED_BUSHING, **one)) for one in plates]
        means = [grip_multiplier("joint_slip", one).mean[0] for one in both]
        return means[1] / means[0]

    known = times(output_torque_nm="2000", peak_factor="2")
    assumed = times(peak_factor="2")
    assert known > assumed > 1
