"""Joints that all lose as much, against each losing it by itself."""

import numpy as np
import pytest

from scoring.handbook.shares_of_losses import LOSSES, lose, spread_over


@pytest.mark.parametrize("ratio", [0.999, 0.95, 0.7, 0.5, 0.05, 0.01, 0.0])
def test_a_loss_of_all_is_the_same_as_that_of_each(ratio):
    rng = np.random.default_rng(3)
    shares = rng.random((200, len(LOSSES))) * (rng.random((200, len(LOSSES))) < 0.4)
    loss = -np.log(ratio) if ratio > 0 else np.inf
    of_each = lose(shares, np.full(len(shares), loss))
    of_all = spread_over(shares, (ratio,), np.ones((len(shares), 1)))
    assert (of_all == of_each).all()
