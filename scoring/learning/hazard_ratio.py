"""By what a learned correction multiplies the handbook's hazards."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scoring.learning.covariates import PARTS, Covariates, State

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class HazardRatio:
    """Learned over handbook hazard of one failure mode.

    Attributes
    ----------
    columns : Covariates
        What each coefficient belongs to.
    coefficients : ndarray, shape (n_columns,)
        What each column adds to the logarithm of the hazard. [-]
    """

    columns: Covariates
    coefficients: Floats

    def log_ratio(self, state: State) -> Floats:
        """Return log(learned over handbook hazard) [-] of each row, shape (n_rows,).

        To the last digit the sum of ``pieces`` along the columns, from the first to the last; but
        no table of them is laid out, and what was learned to be nothing is left out.
        """
        total = np.zeros(len(state))
        for terms in self._terms(state):
            total += terms
        return total

    def pieces(self, design: Floats, state: State) -> Floats:
        """Return what each column adds to the logarithm; of ages, the mean over the time ahead."""
        pieces: Floats = design * self.coefficients
        for part, share in (("early life", state.early), ("old age", state.old)):
            for column in np.flatnonzero(self.columns.part_of_column == PARTS.index(part)):
                change = np.expm1(self.coefficients[column])
                pieces[:, column] = np.log1p(share * change)
        return pieces

    @cached_property
    def _by_part(self) -> dict[str, Floats]:
        """Coefficients of each part, in the order of its columns."""
        part = self.columns.part_of_column
        return {name: self.coefficients[part == place] for place, name in enumerate(PARTS)}

    @cached_property
    def _findings(self) -> tuple[NDArray[np.intp], Floats, Floats]:
        """Findings that add anything: their places, and what a bad one and a good one add."""
        adds = self._by_part["findings"]
        here = np.flatnonzero(adds)
        return here, adds[here, np.newaxis], self.columns.share[here, np.newaxis]

    @cached_property
    def _of_sites(self) -> dict[str, float]:
        return dict(zip(self.columns.sites, self._by_part["site"].tolist(), strict=False))

    def _terms(self, state: State) -> Iterator[Floats]:
        """Give what each column adds, one after the other."""
        by_part = self._by_part
        level = by_part["level"]
        if not self.columns.level_alone:
            effects = state.log_multipliers.T[self.columns.effects]
            yield from effects * by_part["effects"][:, np.newaxis]
            here, adds, share = self._findings
            bad = state.states_bad.T[here]
            yield from np.where(bad < 0, 0.0, bad - share) * adds
            plates = state.nameplates.take(state.unit, axis=0)
            yield from np.ascontiguousarray(plates.T) * by_part["nameplate"][:, np.newaxis]
            of_sites = np.array([self._of_sites.get(site, 0.0) for site in state.sites])
            yield of_sites[state.site]
            yield state.own * by_part["own failures"]
            for part, ahead in (("early life", state.early), ("old age", state.old)):
                yield np.log1p(ahead * np.expm1(by_part[part]))
        yield level
