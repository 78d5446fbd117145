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


@pytest.mark.parametrize("least", [0.0, 0.12, 0.7, np.inf])
def test_joints_that_lose_at_least_so_much_lose_what_each_loses(least):
    rng = np.random.default_rng(5)
    shares = rng.random((60, len(LOSSES))) * (rng.random((60, len(LOSSES))) < 0.4)
    loss = np.where(rng.random(60) < 0.5, 0.0, rng.choice([0.05, 0.3, 2.0, np.inf], 60))
    each = [lose(row[np.newaxis], np.array([one])) for row, one in zip(shares, loss, strict=True)]
    if least == 0:
        assert (lose(shares, loss) == np.concatenate(each)).all()
    of_worst = [
        spread_over(row[np.newaxis], (np.exp(-max(one, least)),), np.ones((1, 1)))
        for row, one in zip(shares, loss, strict=True)
    ]
    if least > 0:
        found = lose(shares, loss, least)
        np.testing.assert_allclose(found, np.concatenate(of_worst), rtol=1e-9, atol=1e-12)
