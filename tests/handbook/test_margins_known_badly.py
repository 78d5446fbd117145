"""A margin drawn towards what is usual, and how unsure a slip is: by hand and node by node."""

from types import SimpleNamespace

import numpy as np
import pytest
from fleets import Book
from units_looked_at import evidence_of

from scoring.handbook.grip_effect import grip_multiplier, log_margin_as_specified
from scoring.handbook.grip_loss import grip_loss
from scoring.handbook.shares_of_losses import LOSSES
from scoring.handbook.slip_hazard import slip_hazards


def test_a_margin_and_what_is_usual_count_by_one_over_their_variances():
    """A normal law with a normal prior, from a textbook: usual is 1.8, give or take a quarter."""
    grip = SimpleNamespace(
        rating=np.array([3200.0, 3200.0, 3200.0, np.nan, np.nan]),
        demand=np.full(5, 1000.0),
        spread_as_specified=np.array([0.25, 0.5, 0.0, 0.25, np.inf]),
    )
    middle, deviation = log_margin_as_specified(grip)
    usual, on_record = np.log(1.8), np.log(3.2)
    by_hand = [(usual + on_record) / 2, (4 * usual + on_record) / 5, on_record, usual, usual]
    assert middle == pytest.approx(by_hand)
    assert deviation == pytest.approx([0.25 / 2**0.5, 0.5 / 5**0.5, 0, 0.25, 0.25], abs=1e-12)


@pytest.mark.parametrize("seen", [{}, {"bore_condition": "oil_film"}])
def test_how_unsure_a_slip_is_loss_by_loss(seen):
    """Mean, variance by what nobody saw and by how the margin is known: sums over every loss."""
    book = Book().unit(mounting="tapered_bushing")
    if seen:
        book.look("2024-01-02", **seen)
    evidence = evidence_of(book)
    years = evidence.known.history["joint_age_days"].iloc[0] / 365.25
    # nothing on record: the margin is the usual one, known as well as that
    hazards = slip_hazards(0.25, 1.0)
    chances = grip_loss(evidence)[0]
    mean = mean_square = square = 0.0
    for loss, chance in zip(LOSSES, chances, strict=True):
        margin = np.array([max(np.log(1.8) - loss, -3.5)])
        ahead, squared = hazards.at(margin, np.array([years]))
        mean += chance * ahead[0]
        mean_square += chance * ahead[0] ** 2
        square += chance * squared[0]
    told = grip_multiplier("joint_slip", evidence)
    assert told.unseen_variance == pytest.approx([np.log(mean_square / mean**2)], rel=0.02)
    assert told.known_badly == pytest.approx([np.log(square / mean_square)], rel=0.02)
    assert told.unseen_variance[0] > 0.5
