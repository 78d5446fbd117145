"""What the fleet's own failures say, and how far to believe it: estimators and their checks."""
