"""HazardPosterior keeps every convention of scikit-learn that can apply to it."""

from sklearn.utils.estimator_checks import parametrize_with_checks

from scoring.learning.hazard_posterior import HazardPosterior

BOTH_SIGNS = "the data of this check have effects of both signs, and these bounds forbid one"


def cannot_apply(estimator):
    return {"check_regressors_train": BOTH_SIGNS} if estimator.lower_bound == 0 else {}


@parametrize_with_checks(
    [HazardPosterior(), HazardPosterior(lower_bound=0.0, level_scale=None)],
    expected_failed_checks=cannot_apply,
)
def test_conventions(estimator, check):
    check(estimator)
