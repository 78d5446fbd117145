"""A number that can be traced."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Input:
    """One input of a number.

    Attributes
    ----------
    name : str
        What a person calls it.
    value : float or str
        Its value, or a word.
    unit : str
        Its unit; empty for a ratio or a word.
    assumed : bool
        Whether it was taken for granted.
    beside : bool
        Whether it is said beside the number, and is not in its formula.
    """

    name: str
    value: float | str
    unit: str = ""
    assumed: bool = False
    beside: bool = False

    @property
    def words(self) -> str:
        """The input in one line.

        Examples
        --------
        >>> Input("arm length", 0.5, "m", assumed=True).words
        'arm length 0.5 m (assumed)'
        """
        if self.value != self.value:
            return f"{self.name} not known"
        value = f"{self.value:.4g}" if isinstance(self.value, float) else str(self.value)
        said = f"{self.name} {value} {self.unit}".rstrip()
        return f"{said} (assumed)" if self.assumed else said


@dataclass(frozen=True)
class TracedNumber:
    """A number with everything it rests on.

    Attributes
    ----------
    topic : str
        Under which heading it is shown.
    name : str
        What a person calls it.
    value : float
        Its value; missing where it cannot be worked out.
    unit : str
        Its unit.
    formula : str
        How it is worked out.
    inputs : tuple of Input
        From what.
    source : str
        Where the formula comes from.
    remark : str
        What has to be said of the formula, in words.
    """

    topic: str
    name: str
    value: float
    unit: str
    formula: str
    inputs: tuple[Input, ...]
    source: str
    remark: str = ""

    @property
    def formula_words(self) -> str:
        """The formula, with what has to be said of it."""
        return f"{self.formula}; {self.remark}" if self.remark else self.formula

    @property
    def value_words(self) -> str:
        """The value with its unit, or that it is not known."""
        if self.value != self.value:
            return "not known"
        return f"{self.value:.4g} {self.unit}".rstrip()
