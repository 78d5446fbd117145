"""Families of plants: what of a plant's nature is the same for every seed, and what is drawn."""

from collections.abc import Callable
from dataclasses import dataclass

from demo_data.chance import Chance
from demo_data.habits_of_a_plant import PLAIN_HABITS, Habits
from demo_data.nameplates import PLAIN_PLATES, Plates
from demo_data.physics_of_a_plant import PLAIN_PHYSICS, Physics
from demo_data.true_effects import PLAIN_SPREAD, Spread
from demo_data.wide_plants import draw_habits, draw_physics, draw_plates, draw_spread

PLAIN, WIDE = "plain", "wide"


@dataclass(frozen=True)
class Nature:
    """What a plant is like, before its units are drawn.

    Attributes
    ----------
    physics : Physics
        What nameplate and age make of hazards.
    spread : Spread
        How far faults, sites, lines, crews and units lie from each other.
    plates : Plates
        How loosely nameplates hang together.
    habits : Habits
        How its people hang, look, mend and write down.
    """

    physics: Physics
    spread: Spread
    plates: Plates
    habits: Habits


PLAIN_NATURE = Nature(PLAIN_PHYSICS, PLAIN_SPREAD, PLAIN_PLATES, PLAIN_HABITS)
"""Of every plain plant."""


def draw_wide_nature(common: Chance, chance: Chance) -> Nature:
    """Draw what a wide plant is like, from what it has in common with others and from its own."""
    return Nature(
        draw_physics(common.of("physics")),
        draw_spread(common.of("spread")),
        draw_plates(chance.of("plates")),
        draw_habits(chance.of("habits")),
    )


FAMILIES: dict[str, Callable[[Chance, Chance], Nature]] = {
    PLAIN: lambda _, __: PLAIN_NATURE,
    WIDE: draw_wide_nature,
}
"""Draws a plant's nature; by the name of the family."""
