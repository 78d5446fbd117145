"""How well hazards predict failures that were not learned from, and which are to be believed."""
