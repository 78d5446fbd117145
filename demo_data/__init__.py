"""Invented plants, and beside them the seeded generator that made them: ``demo_data.generate``."""
