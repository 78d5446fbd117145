"""The nameplate of units as columns: logarithms over what is usual, and words over their shares."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.bearing_loads import log_load_over_usual
from scoring.consequences.nameplate import Nameplate, read_nameplates
from scoring.consequences.row_sums import row_sums, rows_times
from scoring.contract.events import MODES
from scoring.handbook.nameplate_effects import (
    LOAD,
    NUMBERS,
    POWER_OF_LOADS,
    POWER_OF_RATING,
    RATING_AT_80_MM,
    ROLLER_OVER_BALL,
    SHARE_OF_THE_MOTOR,
    SPREAD_OF_KINDS,
    SPREAD_OF_MOTORS,
    SPREAD_OF_RATINGS,
    SPREAD_OF_TORQUES,
    WORDS,
    NameplateNumber,
    NameplateWord,
)

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class NameplateTerms:
    """What of the nameplate shapes one failure, numbers first, then the words of each column.

    Attributes
    ----------
    mode : str
        The failure.
    numbers : tuple of NameplateNumber
        One column each.
    words : tuple of NameplateWord
        A column for each of their words.
    """

    mode: str
    numbers: tuple[NameplateNumber, ...]
    words: tuple[NameplateWord, ...]

    @cached_property
    def names(self) -> tuple[str, ...]:
        """What each column is called."""
        of_words = (f"{one.name}: {word}" for one in self.words for word in one.shares)
        return (*(one.name for one in self.numbers), *of_words)

    @cached_property
    def handbook(self) -> Floats:
        """Powers, and logarithms of multipliers, by the handbook [-]."""
        powers = [one.powers[self.mode].value for one in self.numbers]
        logs = [np.log(one.multipliers[self.mode][w]) for one in self.words for w in one.shares]
        return np.array([*powers, *logs])

    @cached_property
    def deviation(self) -> Floats:
        """How unsure each of them is [-]."""
        powers = [one.powers[self.mode].deviation for one in self.numbers]
        return np.array(
            [*powers, *(one.deviation[self.mode] for one in self.words for _ in one.shares)]
        )

    @cached_property
    def floor(self) -> Floats:
        """Least that may be learned beside the handbook [-]."""
        least = [one.least(self.mode) for one in self.numbers]
        least += [-np.inf] * (len(self.names) - len(least))
        return np.array(least) - self.handbook

    @property
    def never_help(self) -> list[int]:
        """Places of the numbers of which more can never help."""
        return [place for place, one in enumerate(self.numbers) if one.never_helps]

    @cached_property
    def shares_of_words(self) -> tuple[tuple[slice, Floats], ...]:
        """Where the columns of each of ``words`` stand, and how usual their words are."""
        first, groups = len(self.numbers), []
        for one in self.words:
            shares = np.array(list(one.shares.values()))
            groups.append((slice(first, first + len(shares)), shares))
            first += len(shares)
        return tuple(groups)


TERMS = {
    mode: NameplateTerms(
        mode,
        tuple(one for one in NUMBERS if mode in one.powers),
        tuple(one for one in WORDS if mode in one.multipliers),
    )
    for mode in MODES
}
"""For each failure."""


@dataclass(frozen=True)
class NameplateColumns:
    """The nameplate of units, as it shapes the hazard of one failure.

    Attributes
    ----------
    terms : NameplateTerms
        What each column is.
    over_usual : ndarray, shape (n_units, n_columns)
        Logarithm of a number over its usual value, the mean given the others where it is blank; of
        a word 1 or 0 less its share, 0 where it is blank. [-]
    blank : ndarray, shape (n_units, n_numbers)
        Variance of a number that is blank, wholly or in part. [-]
    no_word : ndarray of bool, shape (n_units, n_words)
        Whether there is no word.
    """

    terms: NameplateTerms
    over_usual: Floats
    blank: Floats
    no_word: NDArray[np.bool_]

    @property
    def by_column(self) -> Floats:
        """Logarithm [-] of what each number, and then each column of words, makes of the rate.

        The mean over usual nameplates is 1, and so is a blank: usual values bring less than their
        mean, for what is far above the usual brings more than what is as far below.
        """
        numbers, handbook = self.terms.numbers, self.terms.handbook
        powers = handbook[: len(numbers)]
        spread = np.array([one.spread for one in numbers])
        logs = (
            powers * self.over_usual[:, : len(numbers)] - powers**2 * (spread**2 - self.blank) / 2
        )
        columns = [logs]
        for place, (some, shares) in enumerate(self.terms.shares_of_words):
            effects = handbook[some] - shares @ handbook[some]
            mean = np.log(shares @ np.exp(effects))
            of_word = rows_times(self.over_usual[:, some], effects) - mean * ~self.no_word[:, place]
            columns.append(of_word[:, np.newaxis])
        return np.concatenate(columns, axis=1)

    @property
    def log_shape(self) -> Floats:
        """Logarithm [-] of what the whole nameplate makes of the rate, shape (n_units,)."""
        return row_sums(self.by_column)

    @property
    def log_of_harder_work(self) -> Floats:
        """Logarithm [-] of what those numbers make of it of which more can never help."""
        return row_sums(self.by_column[:, self.terms.never_help])

    @property
    def variance(self) -> Floats:
        """Variance [-] of it, for the handbook is unsure, shape (n_units,)."""
        return rows_times(self.over_usual**2, self.terms.deviation**2)

    def variance_of_blanks(self, learned: Floats | float = 0.0) -> Floats:
        """Return the variance [-] of the logarithm of a hazard that comes from blanks.

        Parameters
        ----------
        learned : ndarray, shape (n_columns,)
            What was learned beside the handbook's powers and logarithms. [-]

        Returns
        -------
        ndarray, shape (n_units,)
        """
        effects = self.terms.handbook + learned
        found = rows_times(self.blank, effects[: len(self.terms.numbers)] ** 2)
        for place, (some, shares) in enumerate(self.terms.shares_of_words):
            spread = shares @ effects[some] ** 2 - (shares @ effects[some]) ** 2
            found = found + spread * self.no_word[:, place]
        return np.asarray(found)


def nameplate_columns(
    mode: str, units: pd.DataFrame, nameplate: Nameplate | None = None
) -> NameplateColumns:
    """Lay out what of the nameplate shapes a failure.

    Parameters
    ----------
    mode : str
        The failure.
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    nameplate : Nameplate, optional
        The same with blanks filled, where somebody has read it already.

    Returns
    -------
    NameplateColumns
    """
    terms = TERMS[mode]
    over_usual, blank = (
        np.zeros((len(units), len(terms.names))),
        np.zeros((len(units), len(terms.numbers))),
    )
    for place, one in enumerate(terms.numbers):
        over_usual[:, place], blank[:, place] = _number(one, units, nameplate)
    no_word = np.zeros((len(units), len(terms.words)), dtype=bool)
    for place, (of_word, (some, shares)) in enumerate(
        zip(terms.words, terms.shares_of_words, strict=True)
    ):
        codes = _places_of(units[of_word.name], list(of_word.shares))
        known = codes >= 0
        over_usual[:, some] = (codes[:, np.newaxis] == np.arange(len(shares))) - known[
            :, np.newaxis
        ] * shares
        no_word[:, place] = ~known
    return NameplateColumns(terms, over_usual, blank, no_word)


def _places_of(said: "pd.Series[str]", words: list[str]) -> NDArray[np.int64]:
    """Return which of some words each unit has; -1 for another one or none."""
    choices = pd.Categorical(said)
    place = [words.index(word) if word in words else -1 for word in choices.categories]
    places: NDArray[np.int64] = np.array([*place, -1], dtype=np.int64)[choices.codes]
    return places


def _number(
    one: NameplateNumber, units: pd.DataFrame, nameplate: Nameplate | None
) -> tuple[Floats, Floats]:
    """Return a number over its usual value, and its variance where it is blank."""
    if one.name == LOAD:
        return load_over_rating(units, read_nameplates(units) if nameplate is None else nameplate)
    given = units[one.name].to_numpy(dtype=np.float64)
    over = np.log(given / one.usual) if one.logarithmic else (given - one.usual) / 10
    blank = np.isnan(over)
    return np.where(blank, 0.0, over), blank * one.spread**2


def load_over_rating(units: pd.DataFrame, nameplate: Nameplate) -> tuple[Floats, Floats]:
    """Return load over rating of the low-speed bearings, over what is usual at 80 mm.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``.
    nameplate : Nameplate
        The same with blanks filled.

    Returns
    -------
    tuple of ndarray, shape (n_units,)
        Its logarithm, and the variance of that where torque or rating is blank. A blank torque is
        usually somewhat less than that of the motor's full power, or else that usual for such a
        shaft; a blank rating that usual for shaft and kind. [-]
    """
    shaft = units["shaft_diameter_mm"].to_numpy(dtype=np.float64)
    rating = units["bearing_dynamic_rating_n"].to_numpy(dtype=np.float64)
    kind = units["bearing_kind"].astype(object)
    roller = np.select([kind == "roller", kind == "ball"], [0.5, -0.5], 0.0)
    usual = RATING_AT_80_MM * (shaft / 80) ** POWER_OF_RATING
    no_rating, no_torque = np.isnan(rating), units["output_torque_nm"].isna().to_numpy()
    over = np.where(no_rating, roller * np.log(ROLLER_OVER_BALL), np.log(rating / usual))
    motor = no_torque & nameplate.torque_from_power
    of_torque = np.select([motor, no_torque], [SPREAD_OF_MOTORS**2, SPREAD_OF_TORQUES**2], 0.0)
    of_rating = no_rating * np.where(roller == 0, SPREAD_OF_KINDS**2, SPREAD_OF_RATINGS**2)
    load = log_load_over_usual(nameplate) + motor * np.log(SHARE_OF_THE_MOTOR)
    by_size = (POWER_OF_LOADS - POWER_OF_RATING) * np.log(shaft / 80)
    return load - over + by_size, of_torque + of_rating
