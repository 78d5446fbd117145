"""Lives in public sets that lifelines and scikit-survival carry."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from lifelines.datasets import load_rossi, load_stanford_heart_transplants
from numpy.typing import NDArray

ROSSI_COLUMNS = ["fin", "age", "race", "wexp", "mar", "paro", "prio"]


@dataclass(frozen=True)
class Rossi:
    """Convicts released, and the week of a new arrest within a year.

    Rossi et al. 1980, from memory; as in lifelines 0.30.0.
    """

    known: NDArray[np.float64]
    week: NDArray[np.float64]
    arrested: NDArray[np.float64]

    @property
    def standardised(self):
        return (self.known - self.known.mean(axis=0)) / self.known.std(axis=0)

    @property
    def prior_hazard(self):
        """A made-up handbook: log-linear in earlier convictions and age."""
        age, earlier = (self.known[:, ROSSI_COLUMNS.index(name)] for name in ("age", "prio"))
        return np.exp(-5 + 0.05 * earlier - 0.03 * age)


def rossi():
    table = load_rossi()
    return Rossi(
        table[ROSSI_COLUMNS].to_numpy(float),
        table["week"].to_numpy(float),
        table["arrest"].to_numpy(float),
    )


def hearts():
    """Return who waited for a heart in Stanford, a row for each stretch before and after it.

    Crowley & Hu 1977, from memory; as in lifelines 0.30.0.
    """
    return load_stanford_heart_transplants()


def hearts_counted_from_nought():
    """Return the same, the day of acceptance being 0, not 1, and a death on it at its noon.

    Who got a heart on that day has no row before it. R survival calls the set jasa1 (from memory).
    """
    table = hearts()
    start, stop = (table["start"] - 1).clip(lower=0), table["stop"] - 1
    stop = stop.where((stop > 0) | (table["event"] == 0), 0.5)
    return table.assign(start=start, stop=stop)[stop > start]


def one_row_each(table):
    """Take whether a heart was ever had as if it had been known from the first day."""
    by_patient = table.groupby("id")
    return pd.DataFrame(
        {
            "stop": by_patient["stop"].last(),
            "event": by_patient["event"].last(),
            "transplant": by_patient["transplant"].max(),
        }
    ).reset_index(drop=True)
