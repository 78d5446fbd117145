"""Scores of what was predicted, worked out again with plain loops."""

import numpy as np
import pandas as pd
import pytest
from scipy.stats import chi2, norm
from sklearn.linear_model import PoissonRegressor
from tried_fleets import validation_of_sites

from scoring.contract.events import MODES
from scoring.handbook.base_rates import UNLIKE_UNITS
from scoring.validation.schemes import OTHER_SITES, SAME_UNITS, SCHEMES
from scoring.validation.scores import EXPECTED, WAYS, captured_in_worst, scores_of
from scoring.validation.validate import GROUPS, SCORES

FLEET = (240, 4)
CASES = [(scheme, mode) for scheme in SCHEMES for mode in MODES]


def tables_of(scheme, mode):
    """Return what was predicted and its scores, by way."""
    found = validation_of_sites(*FLEET)
    predictions, scores = (
        table[(table["scheme"] == scheme) & (table["failure_mode"] == mode)]
        for table in (found.predictions, found.scores)
    )
    return predictions, scores.set_index("predicted_by")


def still_uncensored(day, age):
    """Multiply up the chances of not being lost at each earlier age."""
    left = 1.0
    for lost in sorted({y for y, f in zip(day["years"], day["failed"], strict=True) if not f}):
        if lost < age:
            at_risk = ((day["years"] > lost) | ((day["years"] == lost) & ~day["failed"])).sum()
            left *= 1 - ((day["years"] == lost) & ~day["failed"]).sum() / at_risk
    return left


def order_plainly(predictions, way, *, weighed):
    right = pairs = 0.0
    for _, day in predictions.groupby("since"):
        for _, alike in day.groupby("fold"):
            years, failed, score = (alike[c].to_numpy() for c in ("years", "failed", way))
            for i in np.flatnonzero(failed):
                weight = still_uncensored(day, years[i]) ** -2 if weighed else 1.0
                for j in range(len(years)):
                    if years[j] > years[i] or (years[j] == years[i] and not failed[j]):
                        pairs += weight
                        right += weight * ((score[i] > score[j]) + 0.5 * (score[i] == score[j]))
    return right / pairs if pairs else np.nan


def chance_plainly(expected):
    """Draw out the mean over units alike on paper by a sum over many of them."""
    alike = norm.ppf((np.arange(20_000) + 0.5) / 20_000)
    times = np.exp(UNLIKE_UNITS * alike - UNLIKE_UNITS**2 / 2)
    return (1 - np.exp(-expected * times)).mean()


def distance_plainly(predictions, way):
    total = 0.0
    for _, day in predictions.groupby("since"):
        for row in day.to_dict("records"):
            if row["failed"] or row["years"] >= row["horizon_years"]:
                chance = chance_plainly(row[way])
                total += (row["failed"] - chance) ** 2 / still_uncensored(day, row["years"])
    return total / len(predictions)


@pytest.mark.parametrize(("scheme", "mode"), CASES)
def test_order_and_distance(scheme, mode):
    predictions, scores = tables_of(scheme, mode)
    for way in scores.index:
        for column, weighed in (("harrell", False), ("uno", True)):
            plain = order_plainly(predictions, way, weighed=weighed)
            assert scores.loc[way, column] == pytest.approx(plain, nan_ok=True)
        if way in EXPECTED:
            assert scores.loc[way, "brier"] == pytest.approx(
                distance_plainly(predictions, way), 1e-4
            )


@pytest.mark.parametrize(("scheme", "mode"), CASES)
def test_failed_over_expected_and_its_limits(scheme, mode):
    predictions, scores = tables_of(scheme, mode)
    failed = int(predictions["failed"].sum())
    assert (scores[["failures", "observed"]] == failed).all(axis=None)
    assert (scores["units"] == len(predictions)).all()
    for way, column in EXPECTED.items():
        expected = predictions[column].sum()
        ends = (chi2.ppf(0.05, 2 * failed) if failed else 0.0, chi2.ppf(0.95, 2 * failed + 2))
        found = scores.loc[way, ["expected", "ratio", "ratio_low", "ratio_high"]].astype(float)
        plain = [expected, failed / expected, *(end / 2 / expected for end in ends)]
        np.testing.assert_allclose(found, plain)


@pytest.mark.parametrize(("scheme", "mode"), CASES)
def test_the_slope_is_told_from_twenty_failures_on(scheme, mode):
    predictions, scores = tables_of(scheme, mode)
    for way, column in EXPECTED.items():
        slope, error = scores.loc[way, ["slope", "slope_error"]]
        if predictions["failed"].sum() < 20:
            assert np.isnan([slope, error]).all()
            continue
        log_rate = np.log(predictions[column] / predictions["years"]).to_numpy()
        plain = PoissonRegressor(alpha=0, solver="newton-cholesky", tol=1e-12).fit(
            log_rate[:, np.newaxis],
            predictions["failed"] / predictions["years"],
            sample_weight=predictions["years"],
        )
        assert slope == pytest.approx(plain.coef_[0], abs=1e-5)
        assert 0 < error < 1


def test_units_that_fail_year_after_year_widen_the_error_of_the_slope():
    rng = np.random.default_rng(0)
    bold = np.tile(rng.normal(0, 0.7, 200), 3)
    table = pd.DataFrame(
        {
            "scheme": SCHEMES[0],
            "failure_mode": "seal_leak",
            "fold": 0,
            "since": np.repeat([0, 1, 2], 200),
            "place": np.tile(np.arange(200), 3),
            "years": 1.0,
            "horizon_years": 1.0,
            "failed": np.tile(rng.random(200) < 0.2 * np.exp(bold[:200]), 3),
            **{column: 0.2 * np.exp(bold) for column in (*WAYS, *EXPECTED.values())},
        }
    )
    one = scores_of(table).iloc[0]
    alone = scores_of(table.assign(place=np.arange(600))).iloc[0]
    assert one["slope"] == pytest.approx(alone["slope"])
    assert one["slope_error"] > 1.2 * alone["slope_error"]


def test_every_way_is_scored_a_regression_of_the_same_units_alone():
    for scheme, mode in CASES:
        ways = WAYS if scheme == SAME_UNITS else WAYS[:-1]
        assert tuple(tables_of(scheme, mode)[1].index) == ways


def test_both_few_and_many_failures_were_looked_at():
    failures = validation_of_sites(*FLEET).scores.groupby("failure_mode")["failures"].first()
    assert failures.min() < 20 <= failures.max()


def test_groups_add_up_to_the_whole():
    found = validation_of_sites(*FLEET)
    assert tuple(found.groups.columns) == GROUPS
    assert tuple(found.scores.columns) == SCORES
    by = ["scheme", "failure_mode", "predicted_by"]
    whole = found.scores[found.scores["predicted_by"].isin(EXPECTED)].set_index(by)
    sums = found.groups.groupby(by)[["units", "observed", "expected"]].sum().loc[whole.index]
    np.testing.assert_allclose(sums.to_numpy(), whole[sums.columns].to_numpy(dtype=float))
    for (scheme, mode, way), groups in found.groups.groupby(by):
        predictions, _ = tables_of(scheme, mode)
        assert groups["chance"].is_monotonic_increasing
        mean = (groups["chance"] * groups["units"]).sum() / groups["units"].sum()
        assert mean == pytest.approx(predictions[way].map(chance_plainly).mean(), 1e-4)


def worst_plainly(score, failed, share, rng, draws):
    """Draw lots among equals, and for the last place where it is no whole one."""
    taken = share * len(score)
    found = []
    for _ in range(draws):
        order = np.lexsort([rng.random(len(score)), -score])
        places = int(taken) + (rng.random() < taken - int(taken))
        found.append(failed[order[:places]].sum())
    return np.mean(found), np.std(found) / np.sqrt(draws)


@pytest.mark.parametrize("levels", [2, 5, 1000])
def test_lots_among_equals_are_drawn_on_average(levels):
    rng = np.random.default_rng(levels)
    score = rng.integers(0, levels, 57).astype(float)
    failed = rng.random(57) < 0.3
    mean, error = worst_plainly(score, failed, 0.1, rng, 4000)
    assert captured_in_worst(score, failed) == pytest.approx(mean, abs=4 * error + 1e-12)


def test_the_worst_tenth_is_that_of_each_day_and_fold():
    predictions, scores = tables_of(OTHER_SITES, "seal_leak")
    for way in scores.index:
        caught = sum(
            captured_in_worst(alike[way], alike["failed"])
            for _, alike in predictions.groupby(["since", "fold"])
        )
        assert scores.loc[way, "worst_tenth"] == pytest.approx(caught / predictions["failed"].sum())
    nobody = captured_in_worst(np.zeros(10), np.ones(10, dtype=bool))
    assert nobody == pytest.approx(1.0)  # a tenth, when nothing is told apart


def test_every_unit_is_predicted_once_a_day_in_every_scheme():
    predictions = validation_of_sites(*FLEET).predictions
    keys = ["failure_mode", "since", "place"]
    parts = [part.sort_values(keys)[keys] for _, part in predictions.groupby("scheme")]
    assert len(parts) == len(SCHEMES)
    for part in parts:
        assert not part.duplicated().any()
        pd.testing.assert_frame_equal(part.reset_index(drop=True), parts[0].reset_index(drop=True))
