"""Read a JSON file that nobody vouches for: plain data alone, every entry what it must be.

Nothing in it is ever run. Whatever is missing, unknown, of another kind or out of range is reported
with its place, what was given and what is allowed.
"""

import json
import re
import reprlib
from collections.abc import Iterable
from pathlib import Path
from typing import Never

import numpy as np
from numpy.typing import NDArray

from scoring.errors import FixableError

LARGEST_FILE = 100_000_000
"""What is larger is refused unread: room for a thousand sites. Ours. [byte]"""

MOST_ENTRIES = 5_000_000
"""Lists, objects and what stands in them: more than the largest file of ours holds. Ours."""

DIGEST, DIGEST_WORDS = "[0-9a-f]{64}", "64 hexadecimal digits"
"""How a SHA-256 is written."""

Floats = NDArray[np.float64]

_shortly = reprlib.Repr()
_shortly.maxlevel, _shortly.maxlist, _shortly.maxdict = 2, 3, 3


class Entries:
    """The entries of a JSON object, each asked for by what it must be.

    Parameters
    ----------
    where : str
        Where it stands, as a person finds it.
    found : object
        What stands there.
    names : iterable of str
        The entries it must have, and no others.

    Raises
    ------
    FixableError
        If it is something else. So does every method.
    """

    def __init__(self, where: str, found: object, names: Iterable[str]) -> None:
        self.where = where
        wanted = sorted(names)
        if not isinstance(found, dict):
            refuse(where, found, f"an object with {', '.join(wanted)}")
        if missing := [name for name in wanted if name not in found]:
            raise FixableError(f"{where}: lacks {', '.join(missing)}")
        if unknown := sorted(set(found) - set(wanted)):
            refuse(where, unknown, f"no entries but {', '.join(wanted)}")
        self.found = found

    def __getitem__(self, name: str) -> object:
        """Return what stands under a name, unlooked at."""
        return self.found[name]

    def at(self, name: str) -> str:
        """Return where an entry stands."""
        return f"{self.where}, {name}"

    def entries(self, name: str, names: Iterable[str]) -> "Entries":
        """Return the entries of an object within this one."""
        return Entries(self.at(name), self.found[name], names)

    def text(self, name: str, pattern: str, allowed: str) -> str:
        """Return a text that a pattern matches whole, of characters that can be shown."""
        found = self.found[name]
        if not (isinstance(found, str) and found.isprintable() and re.fullmatch(pattern, found)):
            refuse(self.at(name), found, allowed)
        return found

    def texts(self, name: str) -> tuple[str, ...]:
        """Return a list of texts."""
        found = self.found[name]
        if not (isinstance(found, list) and set(map(type, found)) <= {str}):
            refuse(self.at(name), found, "a list of texts")
        return tuple(found)

    def flag(self, name: str) -> bool:
        """Return true or false."""
        found = self.found[name]
        if not isinstance(found, bool):
            refuse(self.at(name), found, "true or false")
        return found

    def whole(self, name: str, least: int = 0) -> int:
        """Return a whole number."""
        found = self.found[name]
        if type(found) is not int or not least <= found < 2**53:
            refuse(self.at(name), found, f"a whole number of at least {least}")
        return found

    def number(self, name: str, least: float = -np.inf, *, may_be_missing: bool = False) -> float:
        """Return a finite number; or NaN for null, where that is allowed."""
        if may_be_missing and self.found[name] is None:
            return float("nan")
        return float(self.numbers(name, (), least))

    def numbers(
        self, name: str, shape: tuple[int, ...], least: float = -np.inf, most: float = np.inf
    ) -> Floats:
        """Return finite numbers of a shape, within closed limits."""
        flat = _flat(self.found[name], shape, self.at(name))
        if not set(map(type, flat)) <= {int, float}:
            refuse(self.at(name), self.found[name], f"{_shaped(shape)}, each a number")
        try:
            values = np.array(flat, dtype=np.float64).reshape(shape)
        except OverflowError:
            refuse(self.at(name), self.found[name], "numbers that a computer can hold")
        wrong = ~(np.isfinite(values) & (values >= least) & (values <= most))
        if wrong.any():
            to = "" if np.isinf(most) else f" and at most {most:g}"
            limits = "a finite number" + ("" if np.isinf(least) else f" of at least {least:g}{to}")
            refuse(self.at(name), float(values[wrong][0]), limits)
        return values

    def flags(self, name: str, size: int) -> NDArray[np.bool_]:
        """Return a list of true and false."""
        found = self.found[name]
        if not (isinstance(found, list) and len(found) == size and set(map(type, found)) <= {bool}):
            refuse(self.at(name), found, f"{_shaped((size,))}, each true or false")
        return np.array(found, dtype=np.bool_)


def refuse(where: str, given: object, allowed: str) -> Never:
    """Tell what stands where something else should.

    Examples
    --------
    >>> refuse("learned.json, scale", -1.0, "a number above 0")
    Traceback (most recent call last):
        ...
    scoring.errors.FixableError: learned.json, scale: -1.0 is given; right is a number above 0
    """
    raise FixableError(f"{where}: {_shortly.repr(given)} is given; right is {allowed}")


def read_json(path: Path) -> tuple[object, bytes]:
    """Read a JSON file.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    tuple of object and bytes
        What it says, and the file itself.

    Raises
    ------
    FixableError
        If it is not there, cannot be opened, is too large or is not JSON; if a name stands twice
        in one object, or a number is not finite.
    """
    try:
        if not path.is_file():
            raise FixableError(f"there is no file {path}")
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except OSError as error:
        raise FixableError(f"{path} cannot be opened ({error.strerror or error})") from None
    if len(data) > LARGEST_FILE:
        raise FixableError(f"{path} is larger than {LARGEST_FILE / 1e6:g} MB")
    if sum(map(data.count, b"[{,")) > MOST_ENTRIES:
        raise FixableError(f"{path} holds more than {MOST_ENTRIES} entries; it is no file of ours")
    try:
        return json.loads(
            data.decode(), object_pairs_hook=_once_each, parse_constant=_no_constant
        ), data
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}: {error.msg}"
        raise FixableError(f"{path} is not JSON ({place})") from None
    except (ValueError, RecursionError) as error:
        reason = "nested too deep" if isinstance(error, RecursionError) else str(error)[:80]
        raise FixableError(f"{path} is not plain JSON ({reason})") from None


def _once_each(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("a name stands twice in one object")
    return found


def _no_constant(word: str) -> Never:
    raise ValueError(f"{word} is no number")


def _flat(found: object, shape: tuple[int, ...], where: str) -> list[object]:
    """Return the innermost entries, where all lists have the lengths that they should."""
    layer = [found]
    for size in shape:
        lists = [part for part in layer if isinstance(part, list) and len(part) == size]
        if len(lists) < len(layer):
            refuse(where, found, _shaped(shape))
        layer = [one for part in lists for one in part]
    return layer


def _shaped(shape: tuple[int, ...]) -> str:
    if not shape:
        return "one number"
    return "a list of " + " lists of ".join(map(str, shape))
