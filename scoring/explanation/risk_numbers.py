"""Numbers of hazards, probabilities and loss."""

import numpy as np
import pandas as pd

from scoring.consequences.interval import Z90
from scoring.contract.events import JOINT_SLIP, MODE_WORDS, MODES, SEAL_LEAK
from scoring.explanation.assessed_unit import AssessedUnit
from scoring.explanation.correction_numbers import WHAT_IT_MAKES_OF_IT, numbers_of_the_correction
from scoring.explanation.grip_numbers import number_of_the_grip
from scoring.explanation.loss_numbers import numbers_of_the_loss
from scoring.explanation.nameplate_numbers import (
    WHAT_THE_NAMEPLATE_MAKES_OF_IT,
    number_of_the_nameplate,
    plate_of,
)
from scoring.explanation.outside_the_fleet import numbers_outside_the_fleet
from scoring.explanation.slip_numbers import numbers_of_the_slip
from scoring.explanation.traced_number import Input, TracedNumber
from scoring.explanation.where_nobody_looked import where_nobody_looked
from scoring.handbook.base_rates import BASE_RATES, UNLIKE_UNITS
from scoring.handbook.worked_out_effect import NOT_SEEN, REPORTED_CURED, SEEN, SEEN_IN_PART
from scoring.limits.assumptions import PLANNING_VALUE
from scoring.records import DAYS_PER_YEAR
from scoring.timeline.what_hanging_does import WITNESS_MARK

UNITS_ALIKE_IN_INTERVALS = "units alike on paper, of any plant"
"""More than of one plant, over whose units a chance is a mean."""

LOGNORMAL = (
    "lognormal hazard about its mean: what was not seen, how units alike on paper differ, and how "
    "unsure the number itself is"
)


def numbers_of_the_risk(unit: AssessedUnit) -> list[TracedNumber]:
    """Return how each probability comes about, and the expected loss."""
    numbers = [number for mode in MODES for number in _numbers_of_mode(unit, mode)]
    return [*numbers, *numbers_of_the_loss(unit)]


def _numbers_of_mode(unit: AssessedUnit, mode: str) -> list[TracedNumber]:
    topic = f"chance of a {MODE_WORDS[mode]}"
    return [
        number_of_the_nameplate(unit, mode, topic),
        _base(unit, mode, topic),
        *(
            numbers_of_the_slip(unit, topic)
            if mode == JOINT_SLIP
            else [number_of_the_grip(unit, mode, topic)]
        ),
        *_multipliers(unit, mode, topic),
        *numbers_of_the_correction(unit, mode, topic),
        *_expected(unit, mode, topic),
        *numbers_outside_the_fleet(unit, mode, topic),
        _spread(unit, mode, topic),
        *_probability(unit, mode, topic),
    ]


def _base(unit: AssessedUnit, mode: str, topic: str) -> TracedNumber:
    rate, base = BASE_RATES[mode], float(np.exp(unit.at(unit.risk.modes[mode].log_base)))
    shape = float(np.exp(plate_of(unit, mode).log_shape[0]))
    return TracedNumber(
        topic,
        "rate of such a unit without faults",
        base,
        "1/year",
        f"field rate x {WHAT_THE_NAMEPLATE_MAKES_OF_IT} / product of usual multipliers",
        (
            Input("field rate", rate.field_rate, "1/year", assumed=True),
            Input(WHAT_THE_NAMEPLATE_MAKES_OF_IT, shape),
            Input("product of usual multipliers", rate.field_rate * shape / base),
        ),
        rate.origin,
    )


def _multipliers(unit: AssessedUnit, mode: str, topic: str) -> list[TracedNumber]:
    """Return the product of all multipliers of the handbook, and that of what nobody saw."""
    effects = unit.risk.modes[mode].multipliers
    logs, basis = effects.log_mean.iloc[unit.place], effects.basis.iloc[unit.place]
    known = {
        how: float(np.exp(logs[basis == how].sum()))
        for how in (SEEN, SEEN_IN_PART, REPORTED_CURED, NOT_SEEN)
    }
    by_handbook = where_nobody_looked(unit, mode)["by_handbook"].to_numpy()
    crew = unit.known.history["crew"].iloc[unit.place]
    not_seen = TracedNumber(
        topic,
        "multipliers of what nobody saw",
        known[NOT_SEEN],
        "",
        "product of multipliers of effects not seen",
        (
            Input("hung last by", "nobody knows whom" if pd.isna(crew) else str(crew), beside=True),
            Input(
                "were faults as usual as in the handbook",
                float(by_handbook[(basis == NOT_SEEN).to_numpy()].prod()),
                beside=True,
            ),
        ),
        "first looks at this fleet, drawn towards the handbook's shares; " + PLANNING_VALUE,
        "each the mean over its states, by how usual each is on such mountings and by this crew; "
        "see the table of effects",
    )
    product = TracedNumber(
        topic,
        "product of the multipliers by the handbook",
        float(np.exp(logs.sum())),
        "",
        "product of multipliers",
        tuple(Input(f"of those {how}", value) for how, value in known.items()),
        PLANNING_VALUE,
        "for each effect one; see the table of effects",
    )
    return [not_seen, product] if (basis == NOT_SEEN).any() else [product]


def _expected(unit: AssessedUnit, mode: str, topic: str) -> list[TracedNumber]:
    """Return how much age makes of the time ahead, and what is expected in it."""
    one, rate = unit.risk.modes[mode], BASE_RATES[mode]
    age = unit.known.history[rate.age_column].iloc[unit.place]
    learned = one.correction
    over_age = TracedNumber(
        topic,
        "time ahead, as it counts by age",
        unit.at(one.age_exposure),
        "year",
        "usual age / slope x (((age of the part + horizon) / usual age)^slope - (age of the part / "
        "usual age)^slope)",
        (
            Input("age of the part", float(age) / DAYS_PER_YEAR, "year"),
            Input("horizon", unit.horizon_days / DAYS_PER_YEAR, "year"),
            Input("usual age", rate.usual_age, "year", assumed=True),
            Input("slope", rate.age_slope, "", assumed=True),
        ),
        "our own calculation; slope: " + rate.origin,
        "the integral of (age / usual age)^(slope - 1)",
    )
    expected = TracedNumber(
        topic,
        "expected failures within the horizon",
        unit.at(one.expected),
        "",
        "rate without faults x multipliers x "
        + ("" if learned is None else f"{WHAT_IT_MAKES_OF_IT} x ")
        + "time ahead, as it counts by age",
        (
            Input("rate without faults", float(np.exp(unit.at(one.log_base))), "1/year"),
            Input("multipliers", float(np.exp(one.multipliers.log_mean.iloc[unit.place].sum()))),
            *(
                ()
                if learned is None
                else (Input(WHAT_IT_MAKES_OF_IT, float(np.exp(unit.at(learned.log_ratio)))),)
            ),
            Input("time ahead, as it counts by age", unit.at(one.age_exposure), "year"),
        ),
        "our own calculation",
    )
    return [over_age, expected]


def _spread(unit: AssessedUnit, mode: str, topic: str) -> TracedNumber:
    one, place = unit.risk.modes[mode], unit.place
    unseen = float(one.multipliers.unseen_variance.iloc[place].sum())
    unsure: tuple[Input, ...]
    plate = plate_of(unit, mode)
    blanks = plate.variance_of_blanks()
    of_plate = Input("how unsure the handbook's nameplate is", float(np.sqrt(plate.variance[0])))
    if one.correction is None:
        of_effects = float(one.multipliers.log_variance.iloc[place].sum()) - unseen
        unsure = (
            Input("how unsure the rate is", BASE_RATES[mode].uncertainty, "", assumed=True),
            Input("how unsure the handbook's multipliers are", float(np.sqrt(max(of_effects, 0)))),
            of_plate,
        )
    else:
        columns = unit.learned[mode][0].columns
        taught = columns.effects
        variance = one.multipliers.log_variance - one.multipliers.unseen_variance
        untaught = float(np.delete(variance.iloc[place].to_numpy(), taught).sum())
        unsure = (
            Input("how unsure the failures leave it", unit.at(one.correction.log_spread)),
            Input("how unsure multipliers are that none taught", float(np.sqrt(untaught))),
            *([of_plate] if columns.level_alone else []),
        )
        if not columns.level_alone:
            blanks = plate.variance_of_blanks(unit.learned[mode][0].of_nameplate)
    return TracedNumber(
        topic,
        "log standard deviation of the hazard",
        unit.at(one.log_spread),
        "",
        "root of sum of squares",
        (
            Input("what was not seen", float(np.sqrt(unseen))),
            Input("what is blank on the nameplate", float(np.sqrt(blanks[0]))),
            Input(UNITS_ALIKE_IN_INTERVALS, BASE_RATES[mode].unlike_units, "", assumed=True),
            *unsure,
        ),
        "our own calculation; how units alike on paper differ, at plants like the handbook and "
        "unlike it, was chosen on generated plants so that intervals hold 9 of 10",
    )


def _has_failed(unit: AssessedUnit, mode: str) -> tuple[Input, str] | None:
    """Say since when a leak or a slip stands, and what that means; None where none does."""
    leak = unit.known.history["leak_since"].iloc[unit.place]
    if mode == SEAL_LEAK and pd.notna(leak):
        words = "1, for it leaks: it has failed until the seal is renewed"
        return Input("leaks since", str(leak.date())), words
    if mode == JOINT_SLIP and unit.known.exceedance[WITNESS_MARK].iloc[unit.place] > 0:
        seen_on = unit.known.seen_on[WITNESS_MARK].iloc[unit.place]
        words = "1, for its witness mark has moved: it has slipped until its seat was seen"
        return Input("mark seen moved on", str(seen_on.date())), words
    return None


def _probability(unit: AssessedUnit, mode: str, topic: str) -> list[TracedNumber]:
    one = unit.risk.modes[mode]
    expected, spread = unit.at(one.expected), unit.at(one.log_spread)
    ends = tuple(
        Input(name, unit.at(end), beside=True)
        for name, end in (("90 % interval from", one.low), ("to", one.high))
    )
    failed = _has_failed(unit, mode)
    if failed is not None:
        since, formula = failed
        return [TracedNumber(topic, topic, 1.0, "", formula, (since, *ends), "a look or an event")]
    median = expected * float(np.exp(-(spread**2) / 2))
    return [
        TracedNumber(
            topic,
            "median of the expected failures",
            median,
            "",
            "expected failures x exp(-log standard deviation^2 / 2)",
            (Input("expected failures", expected), Input("log standard deviation", spread)),
            LOGNORMAL,
        ),
        TracedNumber(
            topic,
            topic,
            unit.at(one.probability),
            "",
            "mean of 1 - exp(-expected failures x how units alike on paper differ)",
            (
                Input("expected failures", expected),
                Input("units alike on paper", UNLIKE_UNITS, "", assumed=True),
                *ends,
            ),
            "lognormal about 1 with that standard deviation of the logarithm; textbook",
        ),
        _end_of_interval(unit, mode, topic, "lower", median),
        _end_of_interval(unit, mode, topic, "upper", median),
    ]


def _end_of_interval(
    unit: AssessedUnit, mode: str, topic: str, end: str, median: float
) -> TracedNumber:
    """Return one end of the interval; it never leaves the chance outside."""
    one = unit.risk.modes[mode]
    spread, chance = unit.at(one.log_spread), unit.at(one.probability)
    sign, value = ("-", unit.at(one.low)) if end == "lower" else ("", unit.at(one.high))
    formula = (
        "1 - exp(-median of the expected failures x "
        f"exp({sign}standard deviations each way x log standard deviation))"
    )
    inputs: tuple[Input, ...] = (
        Input("median of the expected failures", median),
        Input("log standard deviation", spread),
        Input("standard deviations each way", Z90),
    )
    if value == chance:
        formula = f"{'smaller' if end == 'lower' else 'larger'} of (chance; {formula})"
        inputs = (Input("chance", chance), *inputs)
    return TracedNumber(
        topic, f"90 % interval of that chance, {end} end", value, "", formula, inputs, LOGNORMAL
    )
