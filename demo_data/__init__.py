"""Invented plants, and the seeded generator that made them."""

from demo_data.fleet import Fleet
from demo_data.generate import generate_fleet
from demo_data.write import write_fleet

__all__ = ["Fleet", "generate_fleet", "write_fleet"]
