"""Invented plants, and the seeded generator that made them."""
