"""From multipliers to hazards, probabilities with intervals, and expected loss."""
