"""The parts that wear, and whose lives are followed."""

BEARING = "bearing"
SEAL = "seal"
