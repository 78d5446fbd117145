"""A reading plan: how a plant's own files become the tables of the contract.

``propose`` looks at grids of cells and writes a plan, with questions where it cannot tell; a
person confirms it; ``read_by_plan`` reads grids by it. Both are pure: files are read elsewhere.
"""

from scoring.reading_plan.answers_to_questions import answer, open_questions
from scoring.reading_plan.grid import Grid
from scoring.reading_plan.plan_as_toml import plan_as_toml, plan_from_toml
from scoring.reading_plan.propose import propose
from scoring.reading_plan.read_by_plan import PlannedRecords, read_by_plan
from scoring.reading_plan.what_a_plan_says import Plan, PlannedColumn, PlannedTable, Question

__all__ = [
    "Grid",
    "Plan",
    "PlannedColumn",
    "PlannedRecords",
    "PlannedTable",
    "Question",
    "answer",
    "open_questions",
    "plan_as_toml",
    "plan_from_toml",
    "propose",
    "read_by_plan",
]
