"""The nature of a wide plant: what is constant among plain plants is drawn for each seed.

Nobody who ranks such plants may know these ranges: they are there to disagree with a handbook. They
are so wide that the nameplate carries at least as much of the hazard as faults do. All are planning
values of ours.
"""

import numpy as np

from demo_data.ageing import Ageing, Weibull
from demo_data.arrays import Floats
from demo_data.chance import Chance, to_whole
from demo_data.fault_table import CHECK_NAMES
from demo_data.habits_of_a_plant import Habits
from demo_data.nameplates import Plates
from demo_data.physics_of_a_plant import PLAIN_PHYSICS, Physics, Power, Term, Words
from demo_data.true_effects import MODES, Law, Spread
from scoring.contract.mountings import EVERY_MOUNTING

Ranges = tuple[tuple[float, float], ...]
NOTHING = (0.0, 0.0)

POWERS: dict[str, Ranges] = {
    "load": ((0.8, 2.4), (0.2, 1.2), NOTHING),
    "duty": ((0.5, 1.4), (0.5, 1.4), (0.0, 0.8)),
    "speed": ((-0.2, 0.9), (-0.2, 0.9), NOTHING),
    "size": ((-0.4, 0.5), (-0.2, 0.8), NOTHING),
    "peak": ((0.0, 0.9), (0.0, 0.5), (0.0, 0.8)),
    "warmth": ((-0.1, 0.3), (-0.1, 0.4), NOTHING),
}
"""Least and greatest of what each number does to bearing, seal and joint."""

WORDS_SD: dict[str, tuple[float, ...]] = {
    "environment": (0.3, 0.5, 0.1),
    "mounting": (0.25, 0.3, 0.0),
    "seal_material": (0.0, 0.3, 0.0),
    "bearing_kind": (0.25, 0.0, 0.0),
}
"""Spread of each word's log multiplier about what it is in a plain plant; joints as above."""

RATE: Ranges = ((0.025, 0.06), (0.055, 0.12), (0.002, 0.006))
SLOPE: Ranges = ((1.0, 2.2), (1.0, 2.2), (0.8, 1.4))
TILT: Ranges = ((-0.4, 0.4), (-0.4, 0.4), NOTHING)
"""By how much more than on average faults do while the part is young, and less thereafter."""


def none_to_twice(null: float, twice: float) -> Law:
    """Return a law of effects: a share of them null, a share twice the mean, the rest between."""

    def law(source: np.random.Generator, mean: Floats) -> Floats:
        kind, between = source.random(mean.shape), source.uniform(0.2, 1.8, mean.shape)
        times = np.where(kind < null, 0.0, np.where(kind > 1 - twice, 2.0, between))
        return np.asarray(times * mean)

    return law


class _Drawn:
    """Numbers that hold for the whole plant, each drawn by its name."""

    def __init__(self, chance: Chance) -> None:
        self.draws = chance.at(np.zeros(1, np.int64))

    def between(self, name: str, low: float, high: float) -> float:
        return low + (high - low) * float(self.draws.share(name)[0])

    def times(self, name: str, most: float) -> float:
        """Draw a factor from ``1 / most`` to ``most``, about 1."""
        return float(np.exp(self.between(name, -np.log(most), np.log(most))))

    def whole(self, name: str, low: int, high: int) -> int:
        return int(to_whole(self.draws.share(name), low, high + 1)[0])

    def normal(self, name: str) -> float:
        return float(self.draws.normal(name)[0])

    def of_modes(self, name: str, ranges: Ranges) -> tuple[float, ...]:
        return tuple(
            self.between(f"{name} {mode}", low, high)
            for mode, (low, high) in zip(MODES, ranges, strict=True)
        )


def draw_physics(chance: Chance) -> Physics:
    """Draw what nameplate and age make of hazards."""
    drawn = _Drawn(chance)
    powers: list[Term] = [
        Power(name, drawn.of_modes(name, ranges)) for name, ranges in POWERS.items()
    ]
    plain = {term.of: term.does for term in PLAIN_PHYSICS.terms if isinstance(term, Words)}
    plain["mounting"] = dict.fromkeys(EVERY_MOUNTING, (0.0, 0.0, 0.0))
    words: list[Term] = [
        Words(
            column,
            {
                word: _off(drawn, f"{column} {word}", does, WORDS_SD[column])
                for word, does in plain[column].items()
            },
        )
        for column in WORDS_SD
    ]
    tilt = np.array(drawn.of_modes("tilt", TILT))
    ageing = Ageing(
        cumulative=Weibull(np.array(drawn.of_modes("slope", SLOPE))),
        ends=(drawn.between("young until", 0.75, 2.5), np.inf),
        faults=np.column_stack([1 + tilt, 1 - tilt]),
    )
    return Physics((*powers, *words), ageing, RATE)


def _off(
    drawn: _Drawn, name: str, does: tuple[float, ...], spread: tuple[float, ...]
) -> tuple[float, ...]:
    return tuple(
        usual + sd * drawn.normal(f"{name} {mode}")
        for mode, usual, sd in zip(MODES, does, spread, strict=True)
    )


def draw_spread(chance: Chance) -> Spread:
    """Draw how far faults, sites, lines, crews and units lie from each other."""
    drawn = _Drawn(chance)
    return Spread(
        faults=none_to_twice(drawn.between("null", 0.15, 0.3), drawn.between("twice", 0.1, 0.2)),
        site=drawn.between("site", 0.05, 0.4),
        line=drawn.between("line", 0.0, 0.2),
        crew=drawn.between("crew", 0.0, 0.2),
        place=drawn.between("place", 0.0, 0.15),
        unit=drawn.between("unit", 0.1, 0.4),
    )


def draw_plates(chance: Chance) -> Plates:
    """Draw how loosely nameplates hang together."""
    drawn = _Drawn(chance)
    return Plates(
        least_torque=drawn.between("least torque", 0.2, 0.4),
        rating=drawn.between("rating", 0.2, 0.4),
        arm=drawn.between("arm", 0.1, 0.2),
        mass=drawn.between("mass", 0.1, 0.2),
    )


def draw_habits(chance: Chance) -> Habits:
    """Draw how people hang, look, mend and write down."""
    drawn = _Drawn(chance)
    own = np.array([drawn.normal(f"faults {name}") for name in CHECK_NAMES])
    shortest = drawn.whole("shortest round", 3, 7)
    return Habits(
        careless_crews=drawn.between("crews", 0.1, 0.6),
        careless_sites=drawn.between("sites", 0.0, 0.5),
        quirks=drawn.between("quirks", 0.1, 0.5),
        bad_days=drawn.between("bad days", 0.0, 0.6),
        faults=drawn.times("faults", 1.5) * np.exp(0.35 * own),
        loosens=drawn.times("loosens", 2.0),
        post_install_made=drawn.between("post-install", 0.75, 0.98),
        after_start_made=drawn.between("after start", 0.2, 0.8),
        periodic_made=drawn.between("periodic", 0.7, 0.98),
        shortest_round=shortest,
        longest_round=shortest + drawn.whole("longest round", 3, 8),
        sees=drawn.between("sees", -0.6, 0.6),
        missed=drawn.between("missed", 0.03, 0.2),
        other_fault=drawn.between("other fault", 0.02, 0.12),
        false_alarm=drawn.between("false alarm", 0.001, 0.01),
        other_good=drawn.between("other good", 0.02, 0.15),
        poor_reading=drawn.between("poor reading", 0.1, 0.5),
        plans=drawn.between("plans", 0.2, 0.6),
        hold_taken_up=drawn.between("hold taken up", 0.6, 0.9),
        taken_up=drawn.between("taken up", 0.3, 0.7),
        taken_up_off_shaft=drawn.between("taken up off the shaft", 0.1, 0.4),
        papers=drawn.between("papers", 0.3, 1.7),
        unevenly=0.4,
    )
