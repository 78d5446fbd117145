"""The true effects: drawn anew for every seed, some null, none protective."""

import numpy as np
import pytest

from demo_data.chance import Chance
from demo_data.true_effects import EFFECT_SD, SHARE_NULL, draw_effects, mean_effects
from scoring.contract.rework import ACTION_BY_NAME

SEEDS = 400


@pytest.fixture(scope="module")
def drawn() -> np.ndarray:
    return np.stack(
        [draw_effects(Chance(seed), 3, 4, 7).fault for seed in range(SEEDS)],
    )


def test_effects_differ_by_seed_and_keep_their_means(drawn: np.ndarray) -> None:
    mean, _ = mean_effects()
    listed = mean > 0
    spread = drawn[:, listed].std(axis=0)
    assert (spread > 0.45).all()
    assert spread.mean() >= 0.5
    np.testing.assert_allclose(drawn[:, listed].mean(axis=0), mean[listed], atol=0.16)


def test_some_are_null_and_none_protects(drawn: np.ndarray) -> None:
    mean, _ = mean_effects()
    null = (drawn[:, mean > 0] == 0).mean()
    assert null == pytest.approx(SHARE_NULL, abs=0.02)
    assert (drawn >= 0).all()
    assert (drawn[:, mean == 0] == 0).all()


def test_unlisted_effects_are_there_and_modest() -> None:
    effects = draw_effects(Chance(1), 200, 200, 200)
    for part in (effects.site, effects.line, effects.crew, effects.place):
        assert 0.05 < part.std() < EFFECT_SD / 2
    renews = np.array([bool(action.renews) for action in ACTION_BY_NAME.values()])
    assert effects.success[~renews].min() >= 0.75
    assert effects.success[~renews].max() <= 0.97
    assert (effects.success[renews] == 1).all()
