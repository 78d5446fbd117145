"""How a person reads: the language, the way numbers are written, the units of measure."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass

from scoring.contract.amounts_in_words import NARROW_SPACE
from scoring.contract.quantities import INCH, METRIC

ENGLISH, GERMAN = "en", "de"
LANGUAGES: dict[str, str] = {ENGLISH: "English", GERMAN: "Deutsch"}
"""Languages by their code in ISO 639, each in its own name."""

NUMBER_FORMATS: dict[str, tuple[str, str]] = {
    "space_point": (NARROW_SPACE, "."),
    "space_comma": (NARROW_SPACE, ","),
    "comma_point": (",", "."),
    "point_comma": (".", ","),
}
"""Mark of thousands and mark of decimals, by the name of the format."""

MEASURES = (METRIC, INCH)

_USUAL_NUMBERS = {ENGLISH: "space_point", GERMAN: "space_comma"}


@dataclass(frozen=True)
class Reading:
    """How a person reads.

    Attributes
    ----------
    language : str
        One of ``LANGUAGES``.
    numbers : str
        One of ``NUMBER_FORMATS``.
    measures : str
        One of ``MEASURES``.
    """

    language: str = ENGLISH
    numbers: str = _USUAL_NUMBERS[ENGLISH]
    measures: str = METRIC


AS_WRITTEN = Reading()
"""As everything inside is written, so that nothing has to be told anew."""

_READING: ContextVar[Reading] = ContextVar("reading", default=AS_WRITTEN)


def reading_from(kept: Mapping[str, str], asked: str | None = None) -> Reading:
    """Return how a person reads, from what their device keeps.

    Parameters
    ----------
    kept : mapping of str to str
        Such as cookies; what is no choice of ours is left out of account.
    asked : str, optional
        The language that the browser asks for, such as ``de-AT``, where nothing is kept.

    Examples
    --------
    >>> reading_from({"language": "de", "measures": "furlong"})
    Reading(language='de', numbers='space_comma', measures='metric')
    >>> reading_from({}, "de-AT").language, reading_from({}, "fr").language
    ('de', 'en')
    """
    first = (asked or "").split(",")[0].split(";")[0].split("-")[0].strip().lower()
    language = kept.get("language", first)
    language = language if language in LANGUAGES else ENGLISH
    numbers, measures = kept.get("numbers", ""), kept.get("measures", "")
    return Reading(
        language,
        numbers if numbers in NUMBER_FORMATS else _USUAL_NUMBERS[language],
        measures if measures in MEASURES else METRIC,
    )


def current_reading() -> Reading:
    """Return how the person reads to whom is spoken now."""
    return _READING.get()


def read_as(reading: Reading) -> None:
    """Speak to a person who reads so, from here on in this thread or task."""
    _READING.set(reading)


@contextmanager
def reading_as(reading: Reading) -> Iterator[None]:
    """Speak to a person who reads so, for a while.

    Examples
    --------
    >>> with reading_as(Reading("de")):
    ...     current_reading().language
    'de'
    """
    before = _READING.set(reading)
    try:
        yield
    finally:
        _READING.reset(before)
