"""In which unit the numbers of a column are given, as a proposal."""

from collections.abc import Sequence

from scoring.contract.quantities import ambiguous_names, contract_suffix
from scoring.reading_plan.numbers_written import number_in_cell, plain_number
from scoring.reading_plan.plausible_in_mm import doubtful_in_celsius, doubtful_in_mm
from scoring.reading_plan.propose_words import Asked
from scoring.reading_plan.units_of_measure import reckoning, units_of
from scoring.reading_plan.what_a_plan_says import OPEN, Question

OTHER_SYSTEM = frozenset({"in", "ft", "lbf·ft", "lbf·in", "lbf", "lb", "hp", "°F"})
"""Where some columns say one of these, one that says nothing has to be asked for."""

DOUBTED = "doubted "
"""How a unit begins of which only a doubt is known."""

_WHAT = {
    "_mm": "lengths", "_nm": "torques", "_n": "forces", "_kg": "masses", "_kw": "powers",
    "_c": "temperatures", "_mm_s": "vibration",
}  # fmt: skip


def propose_unit(  # noqa: PLR0911, PLR0913, PLR0917 - what is known of a column, and what it says
    column: str,
    said: str,
    texts: Sequence[str],
    marks: tuple[str, str],
    others: frozenset[str],
    asked: Asked,
) -> tuple[str, str]:
    """Propose in which unit a column is given, and say why.

    Parameters
    ----------
    column : str
        Of ours.
    said : str
        Unit in the heading or in the line below it; empty: none.
    texts : sequence of str
        Distinct texts.
    marks : tuple of str
        Decimal mark and mark between thousands.
    others : frozenset of str
        Units that the other columns of the table say.
    asked : dict of str to Question
        Where a question is added.

    Examples
    --------
    >>> asked = {}
    >>> propose_unit("shaft_diameter_mm", "", ["2.9375"], ("", ""), frozenset(), asked)
    ('?unit_mm', 'as mm 2.9375 is unlikely, as in it is usual')
    >>> asked["unit_mm"].choices[:2]
    ('mm', 'in')
    """
    suffix = contract_suffix(column)
    if not suffix:
        return "", ""
    if said == "in/s" and ambiguous_names(column):
        key = "unit" + suffix
        choices = ("in/s peak", "in/s r.m.s.")
        asked.setdefault(key, Question(key, "Is the vibration in in/s peak or r.m.s.?", choices))
        return OPEN + key, "in/s leaves open whether it is peak or r.m.s."
    if said and reckoning(column, said) is not None:
        return said, f"the heading says {said}"
    beside = [number_in_cell(text, column, *marks)[1] for text in texts]
    if any(beside):
        example = next(t for t, unit in zip(texts, beside, strict=True) if unit)
        return "", f"the unit stands beside the number, as {example}"
    numbers = [float(p) for t in texts if (p := plain_number(t, *marks)) and "/" not in p]
    fractions = suffix == "_mm" and any("/" in text for text in texts)
    if fractions:
        return "in", "fractions are usual in inches"
    key = "unit" + suffix
    units = units_of(column)
    if doubtful_in_mm(column, numbers) or doubtful_in_celsius(column, numbers):
        _ask(key, suffix, units, asked)
        return OPEN + key, f"as {units[0]} {numbers[0]:g} is unlikely, as {units[1]} it is usual"
    if numbers and (others & OTHER_SYSTEM or any(one.startswith(DOUBTED) for one in others)):
        _ask(key, suffix, units, asked)
        shown = ", ".join(sorted(others & OTHER_SYSTEM)) or "another unit, it seems"
        return OPEN + key, f"no unit is said here, and other columns are in {shown}"
    return "", ""


def _ask(key: str, suffix: str, units: tuple[str, ...], asked: Asked) -> None:
    what = _WHAT[suffix]
    asked.setdefault(
        key, Question(key, f"In which unit are {what} whose heading does not say?", units)
    )
