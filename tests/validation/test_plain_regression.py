"""The plain regression: a penalised likelihood, of what was recorded, without a handbook."""

from dataclasses import replace

import numpy as np
import pytest
from tried_fleets import rows_of_sites, validation_of_sites

from scoring.contract.events import MODES
from scoring.validation import plain_regression as module
from scoring.validation.plain_regression import PENALTIES, regress, regressed
from scoring.validation.predictions import followed_from
from scoring.validation.schemes import SAME_UNITS

FLEET, DAY = (240, 4), 2
BEARING, LEAK = "low_speed_bearing", "seal_leak"


def rows_and_order():
    rows = rows_of_sites(*FLEET)
    return rows, np.arange(rows.place.max() + 1)


def columns_plainly(one, row, share):
    """Write down what is known of one stretch."""
    age = one.age_years[row]
    found = [share[k] if bad < 0 else float(bad) for k, bad in enumerate(one.state.bad[row])]
    at = [float(one.state.site[row] == site) for site in range(len(one.state.sites))]
    quarter = 91 / 365.25
    ages = [age, np.log(age + quarter), float(age < quarter)]
    return np.array([*found, *one.state.nameplate[row], *at, *ages])


def test_it_is_where_the_penalised_likelihood_is_highest():
    """There the likelihood's slope along each standardised column is the pull of the penalty."""
    rows, order = rows_and_order()
    one = rows.modes[BEARING]
    fitted = regress(rows, BEARING, DAY, order)
    here = [n for n in range(len(rows)) if rows.period[n] <= DAY and one.years[n] > 0]
    years, failures = one.years[here], one.events[here, DAY]
    bad = one.state.bad[here]
    share = [
        years[bad[:, k] == 1].sum() / max(years[bad[:, k] >= 0].sum(), 1e-12)
        for k in range(bad.shape[1])
    ]
    np.testing.assert_allclose(fitted.share, share)
    known = np.array([columns_plainly(one, row, share) for row in here])
    spread = known.std(axis=0)
    log_rate = (known - known.mean(axis=0)) @ fitted.coefficients
    expected = years * np.exp(log_rate) * failures.sum() / (years @ np.exp(log_rate))
    tells = spread > 1e-6
    standard = (known[:, tells] - known[:, tells].mean(axis=0)) / spread[tells]
    slope = standard.T @ (failures - expected) / failures.sum()
    pull = fitted.coefficients[tells] * spread[tells]
    penalty = slope @ pull / (pull @ pull)
    assert np.abs(np.log(penalty / PENALTIES)).min() < 0.01
    np.testing.assert_allclose(slope, penalty * pull, atol=1e-3 * np.abs(slope).max())
    assert (fitted.coefficients[~tells] == 0).all()
    assert np.abs(pull).max() > 0.01


def test_the_handbook_has_no_say():
    rows, order = rows_and_order()
    without = {
        mode: replace(
            one,
            log_base=one.log_base * 0,
            aged_years=one.years,
            state=replace(one.state, log_multipliers=one.state.log_multipliers * 0),
        )
        for mode, one in rows.modes.items()
    }
    found, bare = (regressed(some, DAY, order) for some in (rows, replace(rows, modes=without)))
    assert found.equals(bare)
    assert found["plain regression"].nunique() > 50


def test_a_site_where_more_fails_is_told():
    rows, order = rows_and_order()
    one = rows.modes[LEAK]
    number = np.arange(len(rows))
    events = one.events * 0
    events[number % np.where(one.state.site == 1, 20, 100) == 0] = 1
    planted = replace(rows, modes={**rows.modes, LEAK: replace(one, events=events)})
    fitted = regress(planted, LEAK, DAY, order)
    followed = followed_from(rows, LEAK, DAY)
    score = fitted.score(followed.state, followed.age_years)
    there = followed.state.site == 1
    assert score[there].mean() > score[~there].mean() + 0.5


def test_nothing_is_told_where_nothing_failed():
    rows, order = rows_and_order()
    quiet = {mode: replace(one, events=one.events * 0) for mode, one in rows.modes.items()}
    assert regress(replace(rows, modes=quiet), LEAK, DAY, order) is None
    assert (regressed(replace(rows, modes=quiet), DAY, order)["plain regression"] == 0).all()


def test_some_rows_without_a_failure_stand_for_all(monkeypatch):
    rows, order = rows_and_order()
    followed = followed_from(rows, LEAK, DAY)
    scores = []
    for most in (module.MOST_QUIET_ROWS, 1000):
        monkeypatch.setattr(module, "MOST_QUIET_ROWS", most)
        fitted = regress(rows, LEAK, DAY, order)
        scores.append(fitted.score(followed.state, followed.age_years))
    assert not np.array_equal(*scores)
    assert np.corrcoef(*scores)[0, 1] > 0.8


@pytest.mark.parametrize("mode", MODES)
def test_every_unit_that_is_predicted_has_a_score(mode):
    table = validation_of_sites(*FLEET).predictions
    same = (table["scheme"] == SAME_UNITS) & (table["failure_mode"] == mode)
    assert np.isfinite(table.loc[same, "plain regression"]).all()
    assert table.loc[table["scheme"] != SAME_UNITS, "plain regression"].isna().all()
