"""The models that ours is held against do learn: they are no straw men."""

from dataclasses import replace

import numpy as np
import other_models
import pandas as pd
import pytest
from other_models import (
    OFFSET,
    OTHER_MODELS,
    ModelRows,
    landmarks,
    offset_ridge,
    partial_likelihood,
)

N_UNITS, ROWS_OF_A_UNIT, MATTERS = 100, 4, "matters"


def drawn_features(draw, n):
    features = pd.DataFrame(draw.normal(size=(n, 4)), columns=[MATTERS, "a", "b", "c"])
    return features.assign(flag=draw.integers(0, 2, n), same=1.0)


@pytest.fixture(scope="module")
def rows():
    """Half-yearly rows of units whose hazard follows one of six columns."""
    draw = np.random.default_rng(1)
    features = drawn_features(draw, N_UNITS * ROWS_OF_A_UNIT)
    start = np.tile(0.5 * np.arange(ROWS_OF_A_UNIT), N_UNITS)
    wait = draw.exponential(1 / (0.1 * np.exp(1.2 * features[MATTERS])))
    return ModelRows(
        features=features,
        unit=np.repeat(np.arange(N_UNITS), ROWS_OF_A_UNIT),
        start=start,
        stop=start + np.minimum(wait, 0.5),
        events=(wait < 0.5).astype(int),
    )


@pytest.fixture(scope="module")
def ahead():
    return drawn_features(np.random.default_rng(2), 200)


def with_a_flat_handbook(model):
    """Let the one that starts from a handbook start from one that holds all units to be alike."""
    if model is not offset_ridge:
        return model

    def scored(rows, ahead):
        features = rows.features.assign(**{OFFSET: -2.0})
        return model(replace(rows, features=features), ahead.assign(**{OFFSET: -2.0}))

    return scored


@pytest.fixture(params=OTHER_MODELS)
def model(request, monkeypatch):
    monkeypatch.setattr(other_models, "BOOSTED_TREES", 20)  # for speed
    return with_a_flat_handbook(OTHER_MODELS[request.param])


def test_what_matters_is_found_and_the_same_again(model, rows, ahead):
    score = model(rows, ahead[ahead.columns[::-1]])
    assert score.shape == (len(ahead),)
    assert pd.Series(score).corr(ahead[MATTERS], method="spearman") > 0.7
    np.testing.assert_array_equal(model(rows, ahead), score)


@pytest.mark.parametrize("outcome", [0, 1])
def test_rows_that_end_alike_rank_nobody(model, rows, ahead, outcome):
    alike = replace(rows, events=np.full(len(rows.events), outcome))
    assert np.ptp(model(alike, ahead)) == 0


def test_a_single_failure_still_gives_scores(model, rows, ahead):
    one = np.arange(len(rows.events)) == rows.events.argmax()
    assert np.isfinite(model(replace(rows, events=one.astype(int)), ahead)).all()


def test_the_offset_ridge_corrects_the_handbook_and_stands_by_it_where_nothing_is_learnt(
    rows, ahead
):
    """A handbook that knows half of what matters, and has the sign of another column wrong."""
    known, coming = (
        frame.assign(**{OFFSET: -2.3 + 0.6 * frame[MATTERS] + 0.5 * frame["a"]})
        for frame in (rows.features, ahead)
    )
    learned = offset_ridge(replace(rows, features=known), coming)
    assert (
        np.corrcoef(learned, ahead[MATTERS])[0, 1]
        > 1.1 * np.corrcoef(coming[OFFSET], ahead[MATTERS])[0, 1]
    )
    nobody = replace(rows, features=known, events=np.zeros(len(rows.events), int))
    np.testing.assert_array_equal(offset_ridge(nobody, coming), coming[OFFSET])


@pytest.mark.parametrize("name", ["ridge", "cox"])
def test_columns_that_say_the_same_do_no_harm(name, rows, ahead):
    twice = [frame.assign(again=frame[MATTERS]) for frame in (rows.features, ahead)]
    score = OTHER_MODELS[name](replace(rows, features=twice[0]), twice[1])
    assert pd.Series(score).corr(ahead[MATTERS], method="spearman") > 0.7


def test_landmarks_leave_out_no_time_and_no_failure(rows):
    """Also where a row starts within a quarter, after a failure, or on a clock set back."""
    start = np.array([0.0, 0.1, 0.3, 0.35, 0.4, 0.0, 0.05, 2.0, 0.0])
    some = ModelRows(
        features=rows.features[: len(start)],
        unit=np.array([0, 0, 0, 0, 0, 0, 0, 0, 1]),
        start=start,
        stop=np.array([0.1, 0.3, 0.35, 0.4, 0.9, 0.05, 2.0, 2.1, 0.2]),
        events=np.array([0, 0, 1, 0, 0, 0, 0, 1, 0]),
    )
    first, last = landmarks(some)
    np.testing.assert_array_equal(first, [0, 2, 3, 5, 7, 8])
    np.testing.assert_array_equal(last, [1, 2, 4, 6, 7, 8])


def test_partial_likelihood_of_three_units_by_hand(rows):
    """At 1 all three are at risk; at 2 the second has not been seen since before."""
    three = ModelRows(
        features=rows.features[:3],
        unit=np.arange(3),
        start=np.array([0.0, 0.0, 0.5]),
        stop=np.array([1.0, 1.5, 2.0]),
        events=np.array([1, 0, 1]),
    )
    hazard = np.array([2.0, 3.0, 5.0])
    found = partial_likelihood(three, np.log(hazard))
    assert found == pytest.approx(np.log(2 / 10))
