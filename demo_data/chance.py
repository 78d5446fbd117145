"""Chance by name: a draw follows from the seed, what it is for, which unit, and which day.

Nothing else bears on it, neither what was drawn before nor how much. So a check, a fault or a
failure more changes no other draw, and what it does not touch stays as it was. The names are part
of the plants: who renames a draw draws it anew, and the demo plants with it.
"""

import hashlib
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from demo_data.arrays import Flags, Floats, Whole

_Bits = NDArray[np.uint64]

BEFORE_RECORDS = 1 << 20
"""Days are counted from this long before the records, so that none is negative. [d]"""


@lru_cache(maxsize=1 << 14)
def _key(seed: int, path: tuple[str, ...]) -> int:
    # not Python's own hash, which differs from process to process
    name = "/".join((str(seed), *path))
    return int.from_bytes(hashlib.sha256(name.encode()).digest()[:8], "little")


@lru_cache(maxsize=1 << 12)
def _keys(seed: int, path: tuple[str, ...], names: tuple[str, ...]) -> _Bits:
    return np.array([_key(seed, (*path, name)) for name in names], dtype=np.uint64)


def _mixed(bits: _Bits) -> _Bits:
    """Mix bits so that neighbours come out unlike; the two factors are from memory."""
    out = bits >> np.uint64(30)
    out ^= bits
    out *= np.uint64(0xBF58476D1CE4E5B9)
    out ^= out >> np.uint64(27)
    out *= np.uint64(0x94D049BB133111EB)
    out ^= out >> np.uint64(31)
    return out


def _to_share(bits: _Bits) -> Floats:
    return np.asarray((bits >> np.uint64(11)) * 2.0**-53)


def _to_normal(bits: _Bits) -> Floats:
    # two even draws make a normal one: how far out, and in which direction
    far = np.sqrt(-2.0 * np.log1p(-_to_share(bits)))
    other = _mixed(bits ^ np.uint64(0x5851F42D4C957F2D))
    return np.asarray(far * np.cos(2 * np.pi * _to_share(other)))


def to_whole(share: Floats, low: int, high: int) -> Whole:
    """Return whole numbers from ``low`` to below ``high``, for shares from 0 to below 1."""
    return low + np.floor((high - low) * share).astype(np.int64)


@dataclass(frozen=True)
class Chance:
    """A source of chance with a name.

    Attributes
    ----------
    seed : int
        Of the plant.
    path : tuple of str
        What is drawn, from the general to the particular.
    """

    seed: int
    path: tuple[str, ...] = ()

    def of(self, *names: str) -> "Chance":
        """Return the source for something more particular."""
        return Chance(self.seed, (*self.path, *names))

    def source(self) -> np.random.Generator:
        """Return a generator, for draws whose number and order never change."""
        return np.random.default_rng(_key(self.seed, self.path))

    def at(self, unit: Whole, day: Whole | int = 0) -> "Draws":
        """Return the draws for some units, each on its day.

        Parameters
        ----------
        unit : int array, shape (draws,)
            Which units; or crews, sites, whatever is counted.
        day : int array, shape (draws,), or int
            When. [d]; or in which step.
        """
        late = np.asarray(day, dtype=np.int64) + BEFORE_RECORDS
        places = (np.asarray(unit).astype(np.uint64) << np.uint64(32)) + late.astype(np.uint64)
        return Draws(self, _mixed(places))


@dataclass(frozen=True)
class Draws:
    """What chance has for some units, each on its day: the same for the same name, unit and day.

    Attributes
    ----------
    chance : Chance
        The source.
    places : uint64 array, shape (draws,)
        Units and days, mixed.

    Examples
    --------
    >>> chance = Chance(7).of("look")
    >>> few, many = chance.at(np.arange(2), day=30), chance.at(np.arange(9), day=30)
    >>> bool((few.share("guard") == many.share("guard")[:2]).all())
    True
    """

    chance: Chance
    places: _Bits

    def of(self, *names: str) -> "Draws":
        """Return the draws for something more particular."""
        return Draws(self.chance.of(*names), self.places)

    def only(self, which: Flags | Whole) -> "Draws":
        """Return the draws for some of the units."""
        return Draws(self.chance, self.places[which])

    def share(self, name: str) -> Floats:
        """Draw evenly from 0 to below 1, shape (draws,)."""
        return self.shares((name,))[:, 0]

    def normal(self, name: str) -> Floats:
        """Draw from the standard normal law, shape (draws,)."""
        return self.normals((name,))[:, 0]

    def whole(self, name: str, low: int, high: int) -> Whole:
        """Draw whole numbers evenly, from ``low`` to below ``high``, shape (draws,)."""
        return to_whole(self.share(name), low, high)

    def shares(self, names: tuple[str, ...]) -> Floats:
        """Draw evenly from 0 to below 1 for each name by itself, shape (draws, names).

        Several names at once are quicker than one after the other, and come out the same.
        """
        return _to_share(self._bits(names))

    def normals(self, names: tuple[str, ...]) -> Floats:
        """Draw from the standard normal law for each name by itself, shape (draws, names)."""
        return _to_normal(self._bits(names))

    def _bits(self, names: tuple[str, ...]) -> _Bits:
        keys = _keys(self.chance.seed, self.chance.path, names)
        return _mixed(self.places[:, None] + keys)
