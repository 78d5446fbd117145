"""Plants that never change, for tests that know units of theirs; demo plants may become others."""

from pathlib import Path

_PLANTS = Path(__file__).parents[1] / "frozen_plants" / "plants"

SMALL_QUARRY = str(_PLANTS / "small_quarry")
GRAIN_PORT = str(_PLANTS / "grain_port")
ORE_WORKS = str(_PLANTS / "ore_works")
