"""A formula with its numbers put in."""

from collections.abc import Mapping

from scoring.sheets.formula_tree import (
    Amount,
    Bracketed,
    Formula,
    Function,
    How,
    Name,
    Over,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
)

PI = "pi"
SQUARES = "squares"
"""What a sum of squares of all inputs is written as."""


def numbers_put_in(tree: Formula, amounts: Mapping[str, str]) -> Formula | None:
    """Put values in the place of names.

    Parameters
    ----------
    tree : Formula
        With names.
    amounts : mapping of str to str
        By name, its value with its unit, in the order of a sum or product over all.

    Returns
    -------
    Formula or None
        None where a name has no value here.

    Examples
    --------
    >>> from scoring.sheets.formula_markup import as_formula, as_words
    >>> tree = as_formula("2 x torque / arm^2")
    >>> as_words(numbers_put_in(tree, {"torque": "30 N·m", "arm": "0.5 m"}))
    '2 x 30 N·m / (0.5 m)^2'
    """
    try:
        return _put(tree, amounts)
    except KeyError:
        return None


def _put(  # noqa: C901, PLR0911 - one for each kind of part
    tree: Formula, amounts: Mapping[str, str]
) -> Formula:
    match tree:
        case Amount():
            return tree
        case Name(words):
            return tree if words == PI else Amount(amounts[words])
        case Bracketed(inner):
            return Bracketed(_put(inner, amounts))
        case Sum(terms):
            return Sum(tuple((sign, _put(term, amounts)) for sign, term in terms))
        case Product(factors):
            return Product(tuple(_put(one, amounts) for one in factors))
        case Quotient(above, below):
            return Quotient(_put(above, amounts), _put(below, amounts))
        case Power(base, exponent):
            return Power(_held_together(_put(base, amounts)), _put(exponent, amounts))
        case Root(of):
            return Root(_put(of, amounts))
        case Function(name, arguments):
            return Function(name, tuple(_put(one, amounts) for one in arguments))
        case Over(how, of):
            return _over_all(how, of, amounts)


def _over_all(how: How, of: Formula, amounts: Mapping[str, str]) -> Formula:
    """Write a sum or product over all inputs as one of each."""
    if not isinstance(of, Name) or not amounts or how is How.MEAN:
        raise KeyError(how)
    each: list[Formula] = [Amount(words) for words in amounts.values()]
    if of.words == SQUARES:
        each = [Power(_held_together(one), Amount("2")) for one in each]
    if len(each) == 1:
        return each[0]
    return Product(tuple(each)) if how is How.PRODUCT else Sum(tuple(("+", one) for one in each))


def _held_together(base: Formula) -> Formula:
    """Put brackets round a value with a unit or a sign that is raised to a power."""
    parted = isinstance(base, Amount) and any(mark in base.words for mark in " ×-")
    return Bracketed(base) if parted else base
