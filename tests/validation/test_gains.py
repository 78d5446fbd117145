"""What one way gains over another, against plain sums and units drawn anew."""

import numpy as np
import pandas as pd
import pytest
from scipy.stats import poisson
from tried_fleets import validation_of_sites

from scoring.learning.concordance import concordance
from scoring.learning.lifetimes import Lifetimes
from scoring.validation import which_is_better as module
from scoring.validation.which_is_better import (
    gain_in_concordance,
    gain_in_likelihood,
    gain_in_proportions,
)

GAINS = (gain_in_likelihood, gain_in_proportions, gain_in_concordance)
BOTH = ("handbook", "handbook and fleet")


def drawn(seed, n_units=250, days=3, better=0.4):
    """Draw units that are predicted on several days; one way knows more of the truth."""
    rng = np.random.default_rng(seed)
    truth = rng.normal(0, 0.9, n_units)
    said = {
        "handbook": truth + rng.normal(0, 1.0, n_units),
        "handbook and fleet": truth + rng.normal(0, 1.0 - better, n_units),
    }
    tables = []
    for day in range(days):
        life = rng.exponential(10 * np.exp(-truth))
        out = np.where(rng.random(n_units) < 0.2, rng.random(n_units), 1.0)
        years = np.round(np.minimum(life, out), 2) + 0.01
        expected = {way: 0.1 * np.exp(0.7 * said[way]) for way in BOTH}
        tables.append(
            pd.DataFrame(
                {
                    "since": day,
                    "place": np.arange(n_units),
                    "years": years,
                    "failed": life <= out,
                    **expected,
                    "expected_handbook": expected["handbook"] * years,
                    "expected_fleet": expected["handbook and fleet"] * years,
                }
            )
        )
    return pd.concat(tables, ignore_index=True)


def pooled_index(table, way):
    right = pairs = 0.0
    for _, day in table.groupby("since"):
        found = concordance(Lifetimes.of(day["years"], day["failed"]), day[way])
        right += found.concordant + found.tied / 2
        pairs += found.concordant + found.discordant + found.tied
    return right / pairs


@pytest.mark.parametrize("seed", range(3))
def test_the_gain_in_order_is_the_difference_of_two_indices(seed, monkeypatch):
    monkeypatch.setattr(module, "PAIRS_AT_ONCE", 2000)  # several blocks
    table = drawn(seed)
    before, after = (pooled_index(table, way) for way in BOTH)
    assert gain_in_concordance(table).value == pytest.approx(after - before, abs=1e-12)


def test_so_it_is_for_what_was_predicted_of_a_fleet():
    found = validation_of_sites(240, 4)
    by = ["scheme", "failure_mode"]
    index = found.scores.pivot_table("harrell", by, "predicted_by")
    gains = found.gains[found.gains["gained_in"] == "concordance"].set_index(by)
    assert len(gains) == 9
    gains = gains[gains["failures"] > 0]  # of a failure that never came nothing is told
    assert len(gains) >= 6
    differences = (index["handbook and fleet"] - index["handbook"]).loc[gains.index]
    np.testing.assert_allclose(gains["value"], differences, atol=1e-12)
    np.testing.assert_allclose(gains["high"] - gains["value"], 2 * gains["error"])


def test_the_first_scheme_gained_what_the_basis_was_chosen_by():
    found = validation_of_sites(240, 4)
    same = found.gains[found.gains["scheme"] == "later failures of the same units"]
    value = same.set_index(["failure_mode", "gained_in"])["value"]
    for mode, basis in found.basis.items():
        if basis.failures == 0:
            assert value[mode].isna().all()
            continue
        for name in ("likelihood", "proportions", "concordance"):
            assert value[mode, name] == pytest.approx(getattr(basis, name).value)


@pytest.mark.parametrize("gain", GAINS)
def test_the_error_is_what_units_drawn_anew_give(gain):
    """A unit comes with all its days; on average over fleets the two errors agree."""
    ratios = []
    for seed in range(4):
        table, rng = drawn(seed, n_units=150), np.random.default_rng(seed + 100)
        of_unit = table.groupby("place").indices
        values = []
        for _ in range(100):
            units = rng.integers(0, len(of_unit), len(of_unit))
            rows = np.concatenate([of_unit[unit] for unit in units])
            place = np.repeat(np.arange(len(units)), [len(of_unit[unit]) for unit in units])
            values.append(gain(table.iloc[rows].assign(place=place)).value)
        ratios.append(gain(table).error / np.std(values))
    assert 0.85 < np.mean(ratios) < 1.18


@pytest.mark.parametrize("gain", GAINS)
def test_what_knows_more_gains_and_the_other_way_round_loses(gain):
    table = drawn(5, better=0.8)
    names = {"handbook": "handbook and fleet", "expected_handbook": "expected_fleet"}
    turned = table.rename(columns=names | {new: old for old, new in names.items()})
    assert gain(table).value > 2 * gain(table).error
    assert gain(turned).value == pytest.approx(-gain(table).value)
    assert gain(turned).worse
    assert not gain(table).worse
    same = table.assign(**{old: table[new] for old, new in names.items()})
    assert gain(same).value == 0
    assert not gain(same).worse


def test_the_gain_in_likelihood_is_a_difference_of_poisson_logarithms():
    table = drawn(6)
    logs = {
        column: poisson.logpmf(table["failed"].astype(int), table[column])
        for column in ("expected_handbook", "expected_fleet")
    }
    plain = (logs["expected_fleet"] - logs["expected_handbook"]).sum()
    assert gain_in_likelihood(table).value == pytest.approx(plain)


def test_the_gain_in_proportions_is_how_likely_these_units_were_given_how_many():
    table = drawn(7)
    plain = 0.0
    for _, day in table.groupby("since"):
        for column, sign in (("expected_fleet", 1), ("expected_handbook", -1)):
            share = day[column] / day[column].sum()
            plain += sign * np.log(share[day["failed"]]).sum()
    assert gain_in_proportions(table).value == pytest.approx(plain)


def test_a_wrong_level_costs_likelihood_but_neither_proportions_nor_order():
    table = drawn(8)
    wrong = table.assign(**{c: 3 * table[c] for c in ("expected_fleet", "handbook and fleet")})
    assert gain_in_likelihood(wrong).value < gain_in_likelihood(table).value - 10
    for gain in (gain_in_proportions, gain_in_concordance):
        assert gain(wrong).value == pytest.approx(gain(table).value)
        assert gain(wrong).error == pytest.approx(gain(table).error)


def test_order_of_rows_does_not_matter():
    table = drawn(9)
    mixed = table.sample(frac=1, random_state=0)
    for gain in GAINS:
        assert gain(mixed).value == pytest.approx(gain(table).value)
        assert gain(mixed).error == pytest.approx(gain(table).error)
