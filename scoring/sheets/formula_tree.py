"""A formula as a tree, so that every engine can set it as mathematics, or say it in words."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal


@dataclass(frozen=True)
class Name:
    """What stands for a value: the name of an input.

    Attributes
    ----------
    words : str
        As a person calls it.
    """

    words: str


@dataclass(frozen=True)
class Amount:
    """A value that is put in, or a figure of the formula itself.

    Attributes
    ----------
    words : str
        With its unit.
    """

    words: str


@dataclass(frozen=True)
class Sum:
    """Terms added up or taken away.

    Attributes
    ----------
    terms : tuple of (str, Formula)
        Each with ``+`` or ``-`` before it; one term with ``-`` is a value with its sign changed.
    """

    terms: "tuple[tuple[Literal['+', '-'], Formula], ...]"


@dataclass(frozen=True)
class Product:
    """Factors.

    Attributes
    ----------
    factors : tuple of Formula
        Two or more.
    """

    factors: "tuple[Formula, ...]"


@dataclass(frozen=True)
class Quotient:
    """One over the other.

    Attributes
    ----------
    above, below : Formula
        Over the line and below it.
    """

    above: "Formula"
    below: "Formula"


@dataclass(frozen=True)
class Power:
    """A base and its exponent.

    Attributes
    ----------
    base, exponent : Formula
        What is raised, and to which power.
    """

    base: "Formula"
    exponent: "Formula"


@dataclass(frozen=True)
class Root:
    """A square root.

    Attributes
    ----------
    of : Formula
        Of what.
    """

    of: "Formula"


@dataclass(frozen=True)
class Function:
    """A function of its arguments.

    Attributes
    ----------
    name : str
        ``exp``, ``sin`` or ``smaller of``.
    arguments : tuple of Formula
        One or more.
    """

    name: str
    arguments: "tuple[Formula, ...]"


class How(StrEnum):
    """How several become one."""

    SUM = "sum"
    PRODUCT = "product"
    MEAN = "mean"


@dataclass(frozen=True)
class Over:
    """A sum, product or mean over several.

    Attributes
    ----------
    how : How
        How they become one.
    of : Formula
        What is added up, multiplied or averaged.
    """

    how: How
    of: "Formula"


@dataclass(frozen=True)
class Bracketed:
    """What brackets hold together where its place would part it.

    Attributes
    ----------
    inner : Formula
        Within the brackets.
    """

    inner: "Formula"


Formula = Name | Amount | Sum | Product | Quotient | Power | Root | Function | Over | Bracketed
