"""Formulas: read as a tree, written back, worth the same, and with their numbers put in."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.sheets.formula_markup import as_formula, as_words
from scoring.sheets.formula_tree import (
    Amount,
    Bracketed,
    Function,
    Name,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
)
from scoring.sheets.numbers_put_in import numbers_put_in

VALUES = {
    "torque": 3.0,
    "running torque": 5.0,
    "friction, clean and dry": 0.15,
    "arm beside the nearer bearing": 2.5,
    "90 % end": 7.0,
}

ATOMS = st.sampled_from([*VALUES, "2", "10", "0.5"])


def in_brackets(texts):
    return texts.map(lambda text: f"({text})")


def larger(texts):
    """Formulas made of smaller ones, written as they would be written back."""
    whole = in_brackets(texts.filter(lambda text: " " in text and not text.startswith("(")))
    one = st.one_of(ATOMS, whole)
    power = st.builds("{}^{}".format, one, ATOMS)
    factor = st.one_of(one, power)
    product = st.lists(factor, min_size=2, max_size=3).map(" x ".join)
    quotient = st.builds("{} / {}".format, st.one_of(ATOMS, power), st.one_of(ATOMS, power))
    term = st.one_of(factor, product, quotient)
    total = st.builds(
        lambda first, others: first + "".join(f" {sign} {term}" for sign, term in others),
        term,
        st.lists(st.tuples(st.sampled_from("+-"), term), min_size=1, max_size=2),
    )
    return st.one_of(term, total, texts.map("exp({})".format), total.map("-{}".format))


FORMULAS = st.one_of(ATOMS, larger(ATOMS), larger(larger(ATOMS)))
"""Two deep is deep enough: each part has stood within each other one."""


def worth(tree):  # noqa: PLR0911 - one for each kind of part
    match tree:
        case Name(words):
            return VALUES[words]
        case Amount(words):
            return float(words)
        case Bracketed(inner):
            return worth(inner)
        case Sum(terms):
            return sum(-worth(term) if sign == "-" else worth(term) for sign, term in terms)
        case Product(factors):
            return math.prod(map(worth, factors))
        case Quotient(above, below):
            return worth(above) / worth(below)
        case Power(base, exponent):
            return worth(base) ** worth(exponent)
        case Root(of):
            return math.sqrt(worth(of))
        case Function("exp", (one,)):
            return math.exp(worth(one))


def worth_as_python(text):
    """Return the same by Python's own reading of the line."""
    for name in sorted(VALUES, key=len, reverse=True):
        text = text.replace(name, f"({VALUES[name]})")
    text = text.replace(" x ", " * ").replace("^", "**").replace("exp", "math.exp")
    return eval(text, {"math": math})  # noqa: S307 - a text of this test


@given(FORMULAS)
def test_a_formula_written_back_is_the_formula(text):
    tree = as_formula(text, VALUES)
    assert tree is not None
    assert as_words(tree) == text
    assert as_formula(as_words(tree), VALUES) == tree


def value(worth_of, what):
    """Return what something is worth; None where it has no real value."""
    try:
        found = worth_of(what)
    except (OverflowError, ZeroDivisionError, TypeError, ValueError):
        return None
    return None if isinstance(found, complex) or not math.isfinite(found) else found


@given(FORMULAS)
def test_a_tree_is_worth_what_its_line_is(text):
    of_line, of_tree = value(worth_as_python, text), value(worth, as_formula(text, VALUES))
    assert of_tree == (of_line if of_line is None else pytest.approx(of_line, rel=1e-6))


@pytest.mark.parametrize(
    "prose",
    [
        "most in a turn, of the bearing that gets more",
        "1, for it leaks: it has failed",
        "a x",
        "(a",
        "a)",
        "",
        "|k e| / 2",
        "a / / b",
    ],
)
def test_prose_is_no_formula(prose):
    assert as_formula(prose) is None


@pytest.mark.parametrize(
    ("text", "put_in"),
    [
        ("torque / arm^2", "30 N·m / (0.5 m)^2"),
        ("product of factors", "30 N·m x 0.5 m"),
        ("pi x torque", "pi x 30 N·m"),
        ("torque x mass", None),
        ("mean of torque", None),
    ],
)
def test_numbers_stand_where_names_stood(text, put_in):
    tree = numbers_put_in(as_formula(text), {"torque": "30 N·m", "arm": "0.5 m"})
    assert put_in == (tree and as_words(tree))


def test_a_sum_of_squares_is_one_of_each():
    tree = numbers_put_in(as_formula("root of sum of squares"), {"a": "3 mm", "b": "-4"})
    squares = tuple(("+", Power(Bracketed(Amount(one)), Amount("2"))) for one in ("3 mm", "-4"))
    assert tree == Root(Sum(squares))


def test_a_name_that_goes_on_is_another_name():
    assert as_formula("arms x 2", ["arm"]) == Product((Name("arms"), Amount("2")))
