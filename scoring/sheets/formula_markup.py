"""Formulas between plain words and a tree: read, and written back.

A formula is written as a person would say it in one line, ``torque x ratio / (torque x peak)``:
``x``, ``/``, ``+`` and ``-`` stand between spaces, ``^`` without; ``x`` and ``/`` are taken from
left to right. Names may consist of many words; one with a comma must be given.
"""

import re
from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

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

FUNCTIONS = ("exp", "sin", "smaller of", "larger of")
"""Followed by their arguments in brackets, with ; between them."""

ROOT = "root of "
OVER = {f"{how} of ": how for how in How}
"""Followed by what is added up, multiplied or averaged, to the end of the bracket."""

_NUMBER = re.compile(r"\d+(?:\.\d+)?(?:e[-+]?\d+)?(?![\w%])")
_PLAIN_NAME = re.compile(r"[^\W\d][\w'-]*(?: (?!x\b)[^\W\d][\w'-]*)*")
_PROSE = re.compile(r"[,:|]|\+-")


def as_formula(text: str, names: Collection[str] = ()) -> Formula | None:
    """Read a formula; None where it is prose that no mathematics says.

    Parameters
    ----------
    text : str
        In plain words.
    names : collection of str
        Names that may stand in it and are no plain words, as with a comma or a figure.

    Examples
    --------
    >>> as_formula("torque / (arm x 2)")  # doctest: +NORMALIZE_WHITESPACE
    Quotient(above=Name(words='torque'),
             below=Product(factors=(Name(words='arm'), Amount(words='2'))))
    >>> as_formula("most in a turn, of the bearing that gets more") is None
    True
    """
    reader = _Reader(text, tuple(sorted(names, key=len, reverse=True)))
    try:
        tree = reader.total()
    except _ProseError:
        return None
    return tree if reader.at == len(text) else None


def as_words(tree: Formula) -> str:  # noqa: PLR0911 - one for each kind of part
    """Write a formula in plain words; read again they give the same formula.

    Examples
    --------
    >>> as_words(as_formula("2 x rated torque / (pi x shaft diameter^2)"))
    '2 x rated torque / (pi x shaft diameter^2)'
    """
    match tree:
        case Name(words) | Amount(words):
            return words
        case Bracketed(inner):
            return f"({as_words(inner)})"
        case Sum(terms):
            first, *others = terms
            begin = ("-" if first[0] == "-" else "") + as_words(first[1])
            return begin + "".join(f" {sign} {as_words(term)}" for sign, term in others)
        case Product(factors):
            return " x ".join(map(as_words, factors))
        case Quotient(above, below):
            return f"{_held(above, Sum)} / {_held(below, Sum, Product, Quotient)}"
        case Power(base, exponent):
            return f"{as_words(base)}^{_held(exponent, Sum, Product, Quotient, Power)}"
        case Root(of):
            return ROOT + _held(of, Sum, Product, Quotient)
        case Function(name, arguments):
            said = "; ".join(map(as_words, arguments))
            return f"{name} ({said})" if " " in name else f"{name}({said})"
        case Over(how, of):
            return f"{how} of {as_words(of)}"


def _held(part: Formula, *kinds: type) -> str:
    """Write a part, in brackets where it would fall apart in this place."""
    return f"({as_words(part)})" if isinstance(part, kinds) else as_words(part)


class _ProseError(ValueError):
    """What is read is no formula."""


@dataclass
class _Reader:
    """Reads a text from left to right; each method reads one kind of thing and goes past it."""

    text: str
    names: tuple[str, ...]
    at: int = 0

    def take(self, words: str) -> bool:
        if self.text.startswith(words, self.at):
            self.at += len(words)
            return True
        return False

    def stands_whole(self, name: str) -> bool:
        """Tell whether a name stands here and does not go on."""
        end = self.at + len(name)
        return self.text.startswith(name, self.at) and not self.text[end : end + 1].isalnum()

    def total(self) -> Formula:
        terms: list[tuple[Literal["+", "-"], Formula]] = [
            ("-" if self.take("-") else "+", self.term())
        ]
        while True:
            if self.take(" + "):
                terms.append(("+", self.term()))
            elif self.take(" - "):
                terms.append(("-", self.term()))
            else:
                break
        if len(terms) == 1 and terms[0][0] == "+":
            return terms[0][1]
        return Sum(tuple(terms))

    def term(self) -> Formula:
        factors = [self.power()]
        while True:
            if self.take(" x "):
                factors.append(self.power())
            elif self.take(" / "):
                below = self.power()
                factors = [Quotient(_bare(_product(factors)), _bare(below))]
            else:
                return _product(factors)

    def power(self) -> Formula:
        base = self.one()
        return Power(base, _bare(self.one())) if self.take("^") else base

    def one(self) -> Formula:  # noqa: PLR0911 - one for each kind of part
        for name in self.names:
            if self.stands_whole(name) and self.take(name):
                return Name(name)
        if self.take(ROOT):
            return Root(_bare(self.one()))
        for words, how in OVER.items():
            if self.take(words):
                return Over(how, self.total())
        for function in FUNCTIONS:
            if self.take(f"{function} (" if " " in function else f"{function}("):
                return self.arguments(function)
        if self.take("("):
            inner = self.total()
            self.close()
            return Bracketed(inner)
        number = _NUMBER.match(self.text, self.at)
        if number:
            self.at = number.end()
            return Amount(number[0])
        return self.plain_name()

    def arguments(self, function: str) -> Formula:
        arguments = [self.total()]
        while self.take("; "):
            arguments.append(self.total())
        self.close()
        return Function(function, tuple(arguments))

    def close(self) -> None:
        if not self.take(")"):
            raise _ProseError

    def plain_name(self) -> Formula:
        found = _PLAIN_NAME.match(self.text, self.at)
        if found is None or _PROSE.match(self.text, found.end()):
            raise _ProseError
        self.at = found.end()
        return Name(found[0])


def _product(factors: list[Formula]) -> Formula:
    return factors[0] if len(factors) == 1 else Product(tuple(factors))


def _bare(part: Formula) -> Formula:
    """Take the brackets off what a line of a fraction or a raised place holds together anyway."""
    return part.inner if isinstance(part, Bracketed) else part
