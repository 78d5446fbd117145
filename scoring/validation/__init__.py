"""How well hazards foretell failures that were not learned from, and which are to be believed."""
