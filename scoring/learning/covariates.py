"""Covariates: what each is, how far it may move, and which way."""

from dataclasses import dataclass
from functools import cached_property, reduce
from typing import Any

import numpy as np
from numpy.typing import NDArray

from scoring.contract import CHECKS
from scoring.contract.events import JOINT_SLIP
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.multipliers import EFFECT_NAMES, UNCERTAINTIES, has_multiplier
from scoring.handbook.nameplate_columns import TERMS
from scoring.handbook.worked_out_effects import WORKED_OUT
from scoring.learning.column_prior import ColumnPrior
from scoring.learning.exposure_cuts import AGE_BAND_DAYS
from scoring.learning.repeated_rows import kinds_of
from scoring.learning.usual_findings import usual_share
from scoring.records import DAYS_PER_YEAR

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PLAIN_CHECKS = tuple(c.name for c in CHECKS if not c.symptom and not c.harms_people_only)
"""Checks whose plain finding may explain a failure; symptoms tell of damage, not of its cause."""


@dataclass(frozen=True)
class PlainState:
    """What plain findings may explain together: checks that show one cause are one of them.

    Attributes
    ----------
    name : str
        The check, or the effect that several show.
    checks : tuple of str
        Those that show it.
    """

    name: str
    checks: tuple[str, ...]

    @cached_property
    def places(self) -> list[int]:
        """Where its checks stand in ``PLAIN_CHECKS``."""
        return [PLAIN_CHECKS.index(check) for check in self.checks]


def _plain_states() -> tuple[PlainState, ...]:
    """Join the checks of each effect that is worked out; all others stand alone."""
    name_of = {check: effect.name for effect in WORKED_OUT for check in effect.checks}
    groups: dict[str, list[str]] = {}
    for check in PLAIN_CHECKS:
        groups.setdefault(name_of.get(check, check), []).append(check)
    return tuple(PlainState(name, tuple(checks)) for name, checks in groups.items())


PLAIN_STATES = _plain_states()
"""What plain findings may explain: no check counts beside another that shows the same cause."""

FINDING_SCALE = 0.1
"""Prior deviation of the logarithm that a plain finding adds, a standard deviation of the finding
apart: chosen on generated fleets. [-]"""

MOST_OF_A_FINDING = 0.4
"""Largest prior deviation of a plain finding against none: chosen on generated fleets. [-]"""

SITE_SCALE = 0.2
"""Prior deviation of the logarithm of a site: chosen on generated fleets. [-]"""

OWN_SCALE = 1.0
"""Prior deviation of the power to which a unit's own failures over expected ones count: chosen on
generated fleets. [-]"""

EARLY_SCALE = 0.7
OLD_SCALE = 0.25
"""Prior deviations of the logarithm of early life and of old age: chosen on generated
fleets. [-]"""

EARLY_LIFE_YEARS = float(AGE_BAND_DAYS[1]) / DAYS_PER_YEAR
"""Age up to which a part is in its early life: the first band of age. [year]"""

OLD_AGE_YEARS = float(AGE_BAND_DAYS[-2]) / DAYS_PER_YEAR
"""Age from which on a part is old: the last two bands of age. [year]"""

ROWS_AT_ONCE = 2048
"""Rows of a design laid out in one go: the cache holds them. Ours."""

LEVEL_ALONE = (JOINT_SLIP,)
"""Failures too rare to teach more than how many there are: all else stays the handbook's."""

PARTS = (
    "effects",
    "findings",
    "nameplate",
    "site",
    "own failures",
    "early life",
    "old age",
    "level",
)
"""What a correction is made of."""


@dataclass(frozen=True)
class State:
    """What may explain failures in rows of one failure mode.

    Attributes
    ----------
    log_multipliers : ndarray, shape (n_rows, n_effects)
        Of the handbook, in the order of ``EFFECT_NAMES``. [-]
    bad : ndarray, shape (n_rows, n_checks)
        1 for a finding, 0 for none, -1 where not seen; in the order of ``PLAIN_CHECKS``. A chance
        between stands for a finding that hypothetical re-work may cure. [-]
    site : ndarray of int, shape (n_rows,)
        Where the unit is, as its place in ``sites``.
    sites : tuple of str
        Sites, sorted.
    early, old : ndarray, shape (n_rows,)
        Whether the part is in its early life, or old, or for how much of the time. [-]
    own : ndarray, shape (n_rows,)
        Logarithm of the unit's own failures over expected ones, from ``OwnFailures``. [-]
    nameplates : ndarray, shape (n_units, n_columns)
        From ``NameplateColumns`` of the failure, of the units. [-]
    unit : ndarray of int, shape (n_rows,)
        The unit of each row, as its place in ``nameplates``.
    """

    log_multipliers: NDArray[np.floating[Any]]
    bad: NDArray[np.int8] | Floats
    site: NDArray[np.integer[Any]]
    sites: tuple[str, ...]
    early: NDArray[np.floating[Any]]
    old: NDArray[np.floating[Any]]
    own: Floats
    nameplates: Floats
    unit: Ints

    def __len__(self) -> int:
        """Return the number of rows."""
        return len(self.early)

    @property
    def nameplate(self) -> Floats:
        """The nameplate of each row [-], shape (n_rows, n_columns)."""
        found: Floats = self.nameplates[self.unit]
        return found

    @cached_property
    def states_bad(self) -> NDArray[np.int8] | Floats:
        """What ``bad`` says of ``PLAIN_STATES``: that of the worst check seen."""
        return joined(self.bad)

    def where(self, keep: NDArray[np.bool_] | Ints) -> "State":
        """Return some of the rows."""
        return State(
            self.log_multipliers[keep],
            self.bad[keep],
            self.site[keep],
            self.sites,
            self.early[keep],
            self.old[keep],
            self.own[keep],
            self.nameplates,
            self.unit[keep],
        )


def joined(bad: NDArray[np.int8] | Floats) -> NDArray[np.int8] | Floats:
    """Return what ``bad`` of each plain check says of ``PLAIN_STATES``: that of the worst seen."""
    worst: NDArray[np.int8] | Floats = np.empty((len(bad), len(PLAIN_STATES)), dtype=bad.dtype)
    for start in range(0, len(bad), ROWS_AT_ONCE):
        some = bad[start : start + ROWS_AT_ONCE]
        for place, state in enumerate(PLAIN_STATES):
            worst[start : start + ROWS_AT_ONCE, place] = reduce(
                np.maximum, (some[:, check] for check in state.places)
            )
    return worst


@dataclass(frozen=True)
class Covariates:
    """The columns of one failure mode.

    Attributes
    ----------
    mode : str
        The failure.
    share : ndarray, shape (n_states,)
        How often each of ``PLAIN_STATES`` was bad where seen: what one not seen counts as. [-]
    spread : ndarray, shape (n_states,)
        Standard deviation of each plain finding. [-]
    sites : tuple of str
        Sites, sorted.
    prior : ColumnPrior, optional
        What other plants say of the columns that pass from plant to plant; by default the
        handbook's word alone.
    """

    mode: str
    share: Floats
    spread: Floats
    sites: tuple[str, ...]
    prior: ColumnPrior | None = None

    @cached_property
    def effects(self) -> Ints:
        """Places of the effects that multiply this hazard and are learned of."""
        learned = [has_multiplier(name, self.mode) for name in EFFECT_NAMES]
        return np.flatnonzero(learned if not self.level_alone else np.zeros(len(learned)))

    @cached_property
    def nameplate(self) -> tuple[str, ...]:
        """Names of what of the nameplate is learned of."""
        return () if self.level_alone else TERMS[self.mode].names

    @property
    def level_alone(self) -> bool:
        """Whether nothing but the level is learned."""
        return self.mode in LEVEL_ALONE

    @cached_property
    def part_of_column(self) -> NDArray[np.int64]:
        """Place in ``PARTS`` of each column."""
        counts = [*self._counts, 1]
        if self.level_alone:
            counts = [*[0] * (len(PARTS) - 1), 1]
        return np.repeat(np.arange(len(PARTS)), counts)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """What each column is called."""
        if self.level_alone:
            return PARTS[-1:]
        effects = (EFFECT_NAMES[place] for place in self.effects)
        findings = (state.name for state in PLAIN_STATES)
        return (*effects, *findings, *self.nameplate, *self.sites, *PARTS[4:])

    @cached_property
    def passes(self) -> NDArray[np.bool_]:
        """Which columns mean the same in every plant: all but those of its sites."""
        return np.asarray(self.part_of_column != PARTS.index("site"))

    @cached_property
    def before(self) -> ColumnPrior | None:
        """What other plants say before a failure is learned from, sites as unsure as ever."""
        if self.prior is None:
            return None
        mean, covariance = np.zeros(len(self.names)), np.diag(self.handbook_scale**2)
        mean[self.passes] = self.prior.mean
        covariance[np.ix_(self.passes, self.passes)] = self.prior.covariance
        return ColumnPrior(mean, covariance)

    @property
    def scale(self) -> Floats:
        """Prior deviation [-] of the coefficient of each column."""
        return self.handbook_scale if self.before is None else self.before.deviation

    @cached_property
    def handbook_scale(self) -> Floats:
        """Prior deviation [-] of the coefficient of each column, by the handbook alone."""
        level = BASE_RATES[self.mode].uncertainty
        if self.level_alone:
            return np.array([level])
        spread = np.where(self.spread > 0, self.spread, 1.0)
        return np.concatenate(
            [
                UNCERTAINTIES[self.mode][self.effects],
                np.minimum(FINDING_SCALE / spread, MOST_OF_A_FINDING),
                TERMS[self.mode].deviation,
                np.full(len(self.sites), SITE_SCALE),
                [OWN_SCALE, EARLY_SCALE, OLD_SCALE, level],
            ]
        )

    @cached_property
    def floor(self) -> Floats:
        """Least coefficient [-] of each column: nothing that is worse may lower a risk.

        No worse finding, no more load or duty, no failure.
        """
        if self.level_alone:
            return np.array([-np.inf])
        return np.concatenate(
            [
                np.full(len(self.effects), -1.0),
                np.zeros(len(PLAIN_STATES)),
                TERMS[self.mode].floor,
                np.full(len(self.sites), -np.inf),
                [0.0, -np.inf, -np.inf, -np.inf],
            ]
        )

    def design(self, state: State) -> Floats:
        """Lay out the columns.

        Parameters
        ----------
        state : State
            What may explain failures.

        Returns
        -------
        ndarray, shape (n_rows, n_columns)
            The coefficient of an effect adds to the 1 with which its logarithm already counts, that
            of the nameplate to the handbook's power; a check not seen, a blank, or a site that
            nothing was learned of counts as nothing known.
        """
        if self.level_alone:
            return np.ones((len(state), 1))
        whole: Floats = np.empty((len(state), len(self.scale)))
        places = np.cumsum(self._counts)
        for start in range(0, len(state), ROWS_AT_ONCE):
            some = slice(start, start + ROWS_AT_ONCE)
            effects, findings, nameplate, sites, own, early, old, level = np.split(
                whole[some], places, axis=1
            )
            bad = state.states_bad[some]
            effects[:] = state.log_multipliers[some].take(self.effects, axis=1)
            findings[:] = np.where(bad < 0, 0.0, bad - self.share)
            nameplate[:] = state.nameplates.take(state.unit[some], axis=0)
            sites[:] = self.at_sites(state, some)
            own[:, 0], early[:, 0], old[:, 0] = state.own[some], state.early[some], state.old[some]
            level[:] = 1.0
        return whole

    def of_unknown_site(self, state: State) -> NDArray[np.bool_]:
        """Tell which rows are at a site that nothing was learned of, where sites are learned of."""
        if self.level_alone:
            return np.zeros(len(state), dtype=bool)
        unknown: NDArray[np.bool_] = self._site_column(state, slice(None)) < 0
        return unknown

    @property
    def _counts(self) -> list[int]:
        """How many columns each part has, the level left out."""
        return [
            len(self.effects), len(PLAIN_STATES), len(self.nameplate), len(self.sites), 1, 1, 1
        ]  # fmt: skip

    def at_sites(self, state: State, some: slice | Ints) -> NDArray[np.bool_]:
        """Tell for some rows at which of ``sites`` they are, shape (n_rows, n_sites)."""
        at: NDArray[np.bool_] = self._site_column(state, some)[:, np.newaxis] == np.arange(
            len(self.sites)
        )
        return at

    def _site_column(self, state: State, some: slice | Ints) -> Ints:
        """Return the place of rows' sites in ``sites``, -1 where nothing was learned of them."""
        of_name = {name: place for place, name in enumerate(self.sites)}
        column = np.array([of_name.get(name, -1) for name in state.sites], dtype=np.int64)
        at: Ints = column[state.site[some]]
        return at


def columns_for(mode: str, state: State, weight: Floats) -> Covariates:
    """Fit the columns to rows that are learned from.

    Parameters
    ----------
    mode : str
        The failure.
    state : State
        Its rows.
    weight : ndarray, shape (n_rows,)
        Time at risk of each row. [year]

    Returns
    -------
    Covariates
    """
    kinds, kind = kinds_of(state.states_bad)
    of_kind = np.bincount(kind, weight, len(kinds)).astype(np.float64)
    return columns_by_kind(mode, kinds, of_kind, sites_of(state))


def columns_by_kind(
    mode: str, kinds: NDArray[np.int8], weight: Floats, sites: tuple[str, ...]
) -> Covariates:
    """Fit the columns as ``columns_for`` does, to findings that come once for each kind.

    Parameters
    ----------
    mode : str
        The failure.
    kinds : ndarray of int8, shape (n_kinds, n_states)
        What was found of ``PLAIN_STATES``.
    weight : ndarray, shape (n_kinds,)
        Time at risk of the rows of each kind. [year]
    sites : tuple of str
        Sites at which there are rows, sorted.

    Returns
    -------
    Covariates
    """
    seen, faulty = weight @ (kinds >= 0), weight @ (kinds == 1)
    share = np.divide(faulty, seen, out=np.zeros(len(PLAIN_STATES)), where=seen > 0)
    share = np.minimum(share, 1.0)
    spread = np.sqrt(faulty * (1 - share) / max(float(weight.sum()), 1e-12))
    return Covariates(mode, share, spread, sites)


def handbook_columns(
    mode: str, sites: tuple[str, ...] = (), prior: ColumnPrior | None = None
) -> Covariates:
    """Return columns that mean the same in every plant: centred on the handbook's shares.

    Parameters
    ----------
    mode : str
        The failure.
    sites : tuple of str
        Sites of the plant, sorted.
    prior : ColumnPrior, optional
        What other plants say.

    Returns
    -------
    Covariates
    """
    share = np.array([usual_share(state.checks) for state in PLAIN_STATES])
    return Covariates(mode, share, np.sqrt(share * (1 - share)), sites, prior)


def sites_of(state: State) -> tuple[str, ...]:
    """Return the sites at which there are rows, sorted."""
    return tuple(state.sites[site] for site in np.unique(state.site))
