"""Small invented fleets: rows of what was known, exposure, prior hazard, failures."""

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class DrawnFleet:
    rows: np.ndarray
    exposure: np.ndarray
    prior: np.ndarray
    events: np.ndarray
    unit: np.ndarray

    def fit(self, regressor):
        return regressor.fit(
            self.rows,
            self.events,
            exposure=self.exposure,
            prior_hazard=self.prior,
            groups=self.unit,
        )

    def taken(self, index):
        kept = (self.rows, self.exposure, self.prior, self.events, self.unit)
        return DrawnFleet(*(values[index] for values in kept))


def drawn_fleet(seed, n_rows=300, n_columns=4, events=40.0, effects=0.5):
    """Draw rows of findings, three rows a unit; ``effects`` is the deviation of the true logs."""
    rng = np.random.default_rng(seed)
    rows = (rng.random((n_rows, n_columns)) < np.linspace(0.4, 0.1, n_columns)).astype(float)
    exposure = rng.lognormal(0.0, 0.5, n_rows)
    prior = rng.lognormal(0.0, 0.7, n_rows)
    prior *= events / (exposure @ prior)
    truth = rng.normal(0.0, effects, n_columns)
    failures = rng.poisson(exposure * prior * np.exp(rows @ truth)).astype(float)
    return DrawnFleet(rows, exposure, prior, failures, np.arange(n_rows) // 3)
