"""Which input of one unit moves its expected loss most: each moved by itself through the chain."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.assessment import Assessment
from scoring.contract import CHECK_BY_NAME, UNITS, Seen
from scoring.contract.declaration import Kind
from scoring.contract.events import MODES
from scoring.explanation.assessed_unit import SAID_OF_SIZES
from scoring.handbook.nameplate_effects import NUMBERS, SPREAD_OF_RATINGS, SPREAD_OF_TORQUES, WORDS
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.looking.what_a_look_finds import SHOWN_BY_LOOKS, values_found
from scoring.looking.what_looks_may_find import what_looks_may_find
from scoring.records import unit_has
from scoring.risk.loss import REPAIR
from scoring.timeline.known import Status
from scoring.what_if.action_arrays import ACTION_NAMES
from scoring.what_if.candidates import Candidates
from scoring.what_if.known_after import known_after

EITHER_WAY = 1.645
"""Standard deviations to either end of what 9 of 10 lie within. [-]"""

READ_WITHIN = 1.1
"""A number that is on record may be this much larger or smaller; planning value of ours. [-]"""

BLANK_WITHIN = 1.5
"""The same of one that is blank, where nothing says how widely it varies; planning value. [-]"""

AMBIENT_READ_WITHIN_K = 3.0
"""The same of a temperature on record; planning value of ours. [K]"""

LEAST_CHANCE_OF_THE_WORST = 0.05
"""What is likelier than this to be so bad or worse is the bad end; planning value of ours. [-]"""

LEAST_MOVED = 1e-6
"""Inputs that move the loss by a smaller share are left out. Ours. [-]"""

AS_FOUND, BLANK, ON_RECORD = "as found", "blank", "on record"

_SIZES = ("output_torque_nm", "joint_rated_torque_nm", "arm_length_mm", "bearing_dynamic_rating_n")
_COSTS = ("downtime_cost_per_h", *(column for pair in REPAIR.values() for column in pair))
_SPREADS = {one.name: one.spread for one in NUMBERS} | {
    "output_torque_nm": SPREAD_OF_TORQUES,
    "joint_rated_torque_nm": SPREAD_OF_TORQUES,
    "bearing_dynamic_rating_n": SPREAD_OF_RATINGS,
}
_NAMES = {
    **{one.name: one.label for one in (*NUMBERS, *WORDS)},
    **SAID_OF_SIZES,
    "peak_factor": "peak over running torque",
    "joint_rated_torque_nm": "joint's rated torque",
    "bearing_dynamic_rating_n": "rating of the low-speed bearings",
}
_COLUMNS = {column.name: column for column in UNITS.columns}


@dataclass(frozen=True)
class MovedInput:
    """What the loss would be at either end of where an input may be.

    Attributes
    ----------
    name : str
        What a person calls it.
    known : str
        How it is known: not seen, as found, blank, on record.
    ends : tuple of (str, float)
        What it may be, and the expected loss then, the smaller loss first. [currency]
    """

    name: str
    known: str
    ends: tuple[tuple[str, float], tuple[str, float]]

    @property
    def moves(self) -> float:
        """By how much the loss moves from end to end [currency]."""
        return self.ends[1][1] - self.ends[0][1]


@dataclass(frozen=True)
class _Variant:
    """One unit that differs from how it is known by one value."""

    name: str
    known: str
    words: str
    column: str
    value: Any
    of_units: bool


def what_moves_it(stands: AssessedFleet, unit_id: str) -> list[MovedInput]:
    """Move each input of one unit to either end of where it may be, and run the chain again.

    Parameters
    ----------
    stands : AssessedFleet
        How the fleet stands.
    unit_id : str
        The unit.

    Returns
    -------
    list of MovedInput
        What moves the expected loss most first; each by itself, all else as it is known.

    Notes
    -----
    All variants are one small fleet, one row each. A check that nobody saw goes from good to what
    is as bad or worse with a chance of 5 %; a finding from cured to as found; what is blank on the
    record over what 9 of 10 such units have; what stands on it a tenth either way. Planning values
    of ours.

    Raises
    ------
    FixableError
        If no unit of that id is in service.
    """
    one = _AtOneUnit.of(stands, unit_id)
    variants = [*one.of_looks(), *one.of_findings(), *one.of_the_record()]
    losses = one.losses(variants)
    moved: dict[tuple[str, str], list[tuple[str, float]]] = {}
    for variant, loss in zip(variants, losses, strict=True):
        moved.setdefault((variant.name, variant.known), []).append((variant.words, float(loss)))
    inputs = []
    for (name, known), ends in moved.items():
        ordered = sorted(ends, key=lambda end: end[1])
        inputs.append(MovedInput(name, known, (ordered[0], ordered[-1])))
    least = LEAST_MOVED * one.loss
    return sorted((one for one in inputs if one.moves > least), key=lambda i: (-i.moves, i.name))


@dataclass(frozen=True)
class _AtOneUnit:
    """One unit as a fleet of its own, by the yardstick of its fleet."""

    stands: AssessedFleet
    alone: Assessment
    place: int

    @classmethod
    def of(cls, stands: AssessedFleet, unit_id: str) -> "_AtOneUnit":
        assessment = stands.assessment
        place = assessment.place_of(unit_id)
        here = np.array([place])
        alone = replace(
            assessment, known=assessment.known.at(here), limits=assessment.limits.at(here)
        )
        return cls(stands, alone, place)

    @property
    def loss(self) -> float:
        """Expected loss as it is known [currency]."""
        return float(self.stands.assessment.risk.expected_loss[self.place])

    @property
    def currency(self) -> str:
        """In which it is."""
        return self.stands.assessment.risk.costs.currency

    def of_looks(self) -> Iterator[_Variant]:
        """Take each look that would tell something, and let it find good, or bad."""
        outcomes = pd.concat(
            [what_looks_may_find(replace(self.stands, assessment=self.alone), s) for s in Seen]
        )
        for check, rows in outcomes.groupby("check", sort=False):
            worse = rows["chance"][::-1].cumsum()[::-1]
            likely = rows[(worse > LEAST_CHANCE_OF_THE_WORST) | (rows["outcome"] <= 1)]
            for value in (likely["value"].iloc[0], likely["value"].iloc[-1]):
                yield _look(str(check), str(rows["why"].iloc[0]), value)

    def of_findings(self) -> Iterator[_Variant]:
        """Let each finding be as it was found, or good."""
        known, limits = self.alone.known, self.alone.limits.table
        shown = {one.check: one for one in SHOWN_BY_LOOKS}
        for name, check in CHECK_BY_NAME.items():
            if not (
                known.status[name].iloc[0] == Status.SEEN
                and known.exceedance[name].iloc[0] > 0
                and unit_has(check, known.units, 0)
            ):
                continue
            good: Any = check.allowed[0] if check.kind is Kind.CHOICE else None
            if name in shown:
                good = values_found(shown[name], shown[name].states[:1], limits, known.units)[0]
            if good is None or pd.isna(good):
                continue
            for value in (good, known.found[name].iloc[0]):
                yield _look(name, AS_FOUND, value)

    def of_the_record(self) -> Iterator[_Variant]:
        """Let each number of the record be smaller or larger, and each blank word be any."""
        row = self.alone.known.units.iloc[0]
        plate = self.stands.assessment.consequences.nameplate
        usual = {one.name: one.usual for one in NUMBERS}
        for column in dict.fromkeys((*_SIZES, *usual)):
            if column not in row or column == "shaft_diameter_mm":
                continue
            blank = bool(pd.isna(row[column]))
            value = float(row[column])
            if blank:
                si = plate.si
                value = usual.get(column, np.nan)
                if column in si:
                    value = plate[column][self.place] * (1e3 if column.endswith("_mm") else 1)
            if np.isnan(value):
                continue
            yield from _number_moved(column, value, blank=blank)
        for word in WORDS:
            if pd.isna(row[word.name]):
                for said in word.shares:
                    yield _of_units(word.name, BLANK, said, said.replace("_", " "))
        costs = self.stands.assessment.risk.costs.table.iloc[self.place]
        for column in _COSTS:
            blank, value = bool(pd.isna(row[column])), float(costs[column])
            yield from _number_moved(column, value, blank=blank, currency=self.currency)

    def losses(self, variants: list[_Variant]) -> NDArray[np.float64]:
        """Return the expected loss of each variant, all in one call [currency]."""
        size = len(variants)
        zero = np.zeros(size, dtype=np.int64)
        looked = pd.DataFrame(index=range(size))
        for name in dict.fromkeys(one.column for one in variants if not one.of_units):
            found = [one.value if one.column == name else None for one in variants]
            looked[name] = pd.Series(found, dtype=object)
        asked = Candidates(zero, np.zeros((size, len(ACTION_NAMES)), dtype=bool), looked)
        after = known_after(self.alone.known, self.alone.limits, asked, None)
        units = after.units.copy()
        costs = self.stands.assessment.risk.costs.table.iloc[np.full(size, self.place)]
        costs = costs.reset_index(drop=True)
        for row, one in enumerate(variants):
            if one.of_units:
                table = costs if one.column in costs else units
                table.loc[row, one.column] = one.value
        limits = self.alone.limits.at(zero)
        after = replace(after, units=units)
        risks = self.alone.yardstick.risks(after, limits, self.stands.assessment.horizon_days)
        every = replace(self.stands.assessment.risk.costs, table=costs)
        loss = np.zeros(size)
        for mode in MODES:
            loss += risks[mode].probability * every.of_failure(mode)
        return loss


def _look(check: str, known: str, value: str | float) -> _Variant:
    declared = CHECK_BY_NAME[check]
    words = f"{value:g} {declared.unit}" if isinstance(value, float) else str(value)
    return _Variant(
        declared.label, known, words.replace("_", " ").strip(), check, value, of_units=False
    )


def _of_units(column: str, known: str, value: str | float, words: str) -> _Variant:
    name = _NAMES.get(column, _COLUMNS[column].meaning)
    return _Variant(name, known, words, column, value, of_units=True)


def _number_moved(
    column: str, value: float, *, blank: bool, currency: str = ""
) -> Iterator[_Variant]:
    """Move a number of the record either way."""
    unit, known = _COLUMNS[column].unit, BLANK if blank else ON_RECORD
    unit = unit.replace("currency", currency)
    if column == "ambient_c":
        away = EITHER_WAY * _SPREADS[column] * 10 if blank else AMBIENT_READ_WITHIN_K
        ends = (value - away, value + away)
    else:
        spread = _SPREADS.get(column)
        times = np.exp(EITHER_WAY * spread) if blank and spread else BLANK_WITHIN
        times = times if blank else READ_WITHIN
        ends = (value / times, value * times)
    if column == "duty_h_per_day":
        ends = (ends[0], min(ends[1], 24.0))
    if column == "peak_factor":
        ends = (max(ends[0], 1.0), ends[1])
    for end in ends:
        places = max(0, 2 - int(np.floor(np.log10(max(abs(end), 1e-3)))))
        yield _of_units(column, known, end, f"{end:,.{min(places, 2)}f} {unit}".strip())
