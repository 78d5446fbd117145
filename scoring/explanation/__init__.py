"""Every number of one unit: formula, inputs with their units, source, what was assumed."""

from scoring.explanation.explain import Explanation, explain

__all__ = ["Explanation", "explain"]
