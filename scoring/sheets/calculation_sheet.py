"""The calculation sheet of one unit: every number of its risk, to be followed and checked."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any

import numpy as np
import pandas as pd

from scoring.assessment import Assessment
from scoring.contract.cautions import CAUTIONS
from scoring.contract.events import MODE_WORDS, MODES
from scoring.contract.ranking import HOLD
from scoring.explanation import Explanation
from scoring.explanation.traced_number import TracedNumber
from scoring.explanation.what_moves_it import MovedInput
from scoring.explanation.what_narrows_it import what_narrows_it
from scoring.records import Fleet
from scoring.sheets.amounts_printed import input_printed, result_printed
from scoring.sheets.bars_of_a_unit import bars_of_what_moves, bars_of_what_narrows
from scoring.sheets.foot_of_pages import foot_of_pages
from scoring.sheets.formula_markup import as_formula
from scoring.sheets.numbers_put_in import numbers_put_in
from scoring.sheets.sheet_blocks import (
    Align,
    Block,
    Code,
    Column,
    Facts,
    Heading,
    Points,
    Prose,
    Section,
    Sheet,
    Table,
    Verdict,
    Weight,
    Worked,
    Written,
)
from scoring.sheets.unit_code import code_of_unit
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

VERDICT_WORDS = {
    "hold": "■ must not run",
    "correct": "▲ correct",
    "watch": "○ watch",
    "no_finding": "· no finding: never a permission to run",
}
"""What the rules say, as it heads the sheet."""

ALL_ELSE = (
    "Each bar moves one input by itself, through the whole calculation: what nobody saw from good "
    "to what is as bad or worse with a chance of 5 %, a finding from cured to as found, a blank "
    "over what 9 of 10 such units have, what stands on record a tenth either way."
)
NARROWER = (
    "The 90 % interval, had one thing been seen or written down, with as many failures expected as "
    "now; where it then lies depends on what is found."
)
LEAST_PERCENT = 1e-3
"""A smaller chance is written with two digits. Ours. [-]"""

PAIRS_OF_GRIP = 3
"""So many stand beside one another in the table of grip left. Ours."""

DIGITS = "Results have 5 digits, inputs 7: who reckons again comes to the digits of the result."


def calculation_sheet(
    fleet: Fleet,
    assessment: Assessment,
    explanation: Explanation,
    moved: list[MovedInput],
    host: str = "",
) -> Sheet:
    """Return the calculation sheet of one unit.

    Parameters
    ----------
    fleet : Fleet
        The records.
    assessment : Assessment
        How the fleet stands.
    explanation : Explanation
        Of the unit.
    moved : list of MovedInput
        What moves its loss, from ``what_moves_it``.
    host : str
        Where the pages are, for the code; by default it holds the unit's id alone.

    Returns
    -------
    Sheet
        A page that says what follows from what, then every number.
    """
    ranked = explanation.ranked
    row = explanation.unit.known.units.iloc[explanation.unit.place]
    below = " · ".join(
        str(row[name]) for name in ("site", "line", "driven_equipment") if pd.notna(row[name])
    )
    unit_id = str(ranked["unit_id"])
    first = Section(
        Written(f"{unit_id}"),
        (*_first_page(explanation, assessment, moved), *_every_number(explanation)),
        Written(below),
        Code(code_of_unit(unit_id, host), "", 22.0),
    )
    return Sheet(
        f"Calculation sheet of {unit_id}",
        (first,),
        foot_of_pages(fleet, assessment.known.as_of),
        dense=True,
    )


def _first_page(
    explanation: Explanation, assessment: Assessment, moved: list[MovedInput]
) -> Iterator[Block]:
    """Say what follows, from what, and what would move it."""
    ranked, risk = explanation.ranked, explanation.unit.risk
    verdict = str(ranked["verdict"])
    why = ranked["main_reasons"]
    yield Verdict(VERDICT_WORDS[verdict], verdict == HOLD, why if isinstance(why, str) else "")
    yield _what_it_is(explanation, assessment)
    yield _chances(explanation)
    currency = risk.costs.currency
    loss = float(ranked["expected_loss"])
    yield Prose(f"Expected loss within the horizon: {loss:,.0f} {currency}", Weight.STRONG)
    yield Heading("Which input moves it most")
    if moved:
        yield bars_of_what_moves(moved, loss, currency)
        yield Prose(ALL_ELSE, Weight.QUIET)
    else:
        yield Prose("Nothing that a person can know moves it.")
    yield Heading("What to measure to narrow it")
    narrows = what_narrows_it(explanation.unit)
    if narrows.by:
        yield bars_of_what_narrows(narrows)
        yield Prose(NARROWER, Weight.QUIET)
    else:
        yield Prose("Nothing that is not seen or blank: only failures written down would.")
    yield Prose(CAUTIONS, Weight.QUIET)
    yield Heading("What was assumed, and what nobody saw")
    assumed, not_seen = ranked["assumed"], ranked["not_seen"]
    yield Prose(f"assumed: {assumed if isinstance(assumed, str) else 'nothing'}", Weight.QUIET)
    yield Prose(f"not seen: {not_seen if isinstance(not_seen, str) else 'nothing'}", Weight.QUIET)


def _what_it_is(explanation: Explanation, assessment: Assessment) -> Facts:
    ranked, row = explanation.ranked, explanation.unit.known.units.iloc[explanation.unit.place]
    return Facts(
        (
            ("mounting", MOUNTING_WORDS[str(row["mounting"])]),
            ("rank", f"{ranked['rank']} of {len(assessment.ranking)}"),
            ("horizon", f"{ranked['horizon_days']} days"),
            ("basis", str(ranked["basis"])),
        )
    )


def _chances(explanation: Explanation) -> Table:
    ranked, risk = explanation.ranked, explanation.unit.risk
    place, currency = explanation.unit.place, risk.costs.currency
    rows = []
    for mode, words in MODE_WORDS.items():
        chance = float(ranked[f"p_{mode}"])
        cost = float(risk.costs.of_failure(mode)[place])
        low, high = (float(ranked[f"p_{mode}_{end}"]) for end in ("low", "high"))
        rows.append(
            (
                words,
                _percent(chance),
                f"{_percent(low)} to {_percent(high)}",
                f"{cost:,.0f}",
                f"{chance * cost:,.0f}",
            )
        )
    return Table(
        (
            Column("failure", share=1.0),
            Column("chance", Align.RIGHT),
            Column("90 % interval", Align.RIGHT),
            Column(f"its cost [{currency}]" if currency else "its cost", Align.RIGHT),
            Column(f"expected loss [{currency}]" if currency else "expected loss", Align.RIGHT),
        ),
        tuple(rows),
    )


def _percent(chance: float) -> str:
    if chance >= LEAST_PERCENT:
        return f"{chance:.2%}"
    return f"{np.format_float_positional(100 * chance, 2, fractional=False)}%"


@dataclass
class _Sources:
    """Sources by number, each listed once."""

    listed: dict[str, int] = field(default_factory=dict)

    def number(self, source: str) -> str:
        return str(self.listed.setdefault(source, len(self.listed) + 1))


def _every_number(explanation: Explanation) -> Iterator[Block]:
    """Show all numbers, failure by failure with the effects that drive it, then the sources."""
    sources = _Sources()
    effects = {f"chance of a {MODE_WORDS[mode]}": mode for mode in MODES}
    for topic, numbers in groupby(explanation.numbers, lambda number: number.topic):
        shown = [worked(number, sources.number(number.source)) for number in numbers]
        yield Heading(topic)
        yield from shown
        if topic in effects:
            yield from _effects(explanation, effects[topic], sources)
    yield Heading("Grip left, and how likely it is")
    yield grip_table(explanation)
    yield Prose(DIGITS, Weight.QUIET)
    yield Heading("Sources")
    yield Points(tuple(sources.listed), numbered=True)


def worked(number: TracedNumber, source: str) -> Worked:
    """Return one number as it stands on the sheet.

    Parameters
    ----------
    number : TracedNumber
        The number.
    source : str
        Its source, or the number under which that is listed.
    """
    amounts = {
        part.name: input_printed(part.value, part.unit)
        for part in number.inputs
        if isinstance(part.value, float) and not part.beside and part.value == part.value
    }
    names = [part.name for part in number.inputs if not part.beside]
    tree = as_formula(number.formula, names)
    known = number.value == number.value
    inputs = tuple(
        (part.name, input_printed(part.value, part.unit), part.assumed) for part in number.inputs
    )
    return Worked(
        number.name,
        result_printed(number.value, number.unit),
        number.formula if tree is None else tree,
        inputs,
        source,
        None if tree is None or not known else numbers_put_in(tree, amounts),
        number.remark,
    )


def _effects(explanation: Explanation, mode: str, sources: _Sources) -> Iterator[Block]:
    """Show what each effect multiplies a failure by."""
    rows = explanation.effects
    rows = rows[rows["failure_mode"] == mode]
    idle = (rows["handbook"] == 1) & (rows["multiplier"] == 1)
    shown = rows[~idle].to_dict("records")
    learned = bool((rows["handbook"] != rows["multiplier"]).any())
    words = MODE_WORDS[mode]
    if shown:
        columns = [
            Column(f"effect on the chance of a {words}", share=1.0),
            Column("how it is known", share=1.0),
            Column("by the handbook ×", Align.RIGHT),
        ]
        if learned:
            columns.append(Column("after learning ×", Align.RIGHT))
        columns += [Column("90 % interval", Align.RIGHT), Column("source", Align.RIGHT)]
        yield Table(tuple(columns), tuple(_effect(row, sources, learned=learned) for row in shown))
    if idle.any():
        yield Prose(f"seen and good, x 1: {', '.join(rows.loc[idle, 'label'])}", Weight.QUIET)


def _effect(row: dict[Any, Any], sources: _Sources, *, learned: bool) -> tuple[str, ...]:
    state = f"{row['basis']}: {row['state']}" if row["state"] else str(row["basis"])
    if not np.isnan(row["faulty"]):
        state += f", worse than good with a chance of {row['faulty']:.0%}"
    cells = [str(row["label"]), state, input_printed(float(row["handbook"]))]
    if learned:
        cells.append(input_printed(float(row["multiplier"])))
    ends = f"{row['low']:.2f} to {row['high']:.2f}"
    return (*cells, ends, sources.number(str(row["origin"])))


def grip_table(explanation: Explanation) -> Table:
    """Return how likely how much of the grip of the joint is left."""
    cells = []
    for left, chance in explanation.grip_left:
        said = f"{chance:.7f}"
        if float(said):
            cells += [input_printed(left), said]
    wide = 2 * PAIRS_OF_GRIP
    cells += [""] * (-len(cells) % wide)
    columns = (Column("grip left", Align.RIGHT, 1.0), Column("chance", Align.RIGHT, 1.0))
    rows = tuple(tuple(cells[at : at + wide]) for at in range(0, len(cells), wide))
    return Table(columns * PAIRS_OF_GRIP, rows)
