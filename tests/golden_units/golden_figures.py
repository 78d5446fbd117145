"""Every figure of fifty kept units, as the program says it; run this file to write them anew.

``python tests/golden_units/golden_figures.py`` is for a change that CHANGELOG.md sizes, and for no
other.
"""

import csv
import math
import sys
from collections.abc import Iterator
from pathlib import Path

import pandas as pd

sys.path.insert(0, str(Path(__file__).parents[1] / "sheets"))
from recomputed_sheet import NOT_RECKONED, Compared, compared

from scoring.assessment import FleetAssessor
from scoring.explanation import Explanation, explain
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.printing.as_html import as_html
from scoring.sheets.calculation_sheet import calculation_sheet

HERE = Path(__file__).parent
RECORDS = HERE / "records"
KEPT = HERE / "figures.csv"
AS_OF = pd.Timestamp("2026-06-30")
DIGITS = 8

Figure = tuple[str, str, str]
"""Unit, topic, name."""


class Golden:
    """The fifty units, judged once: their numbers, and the sheets on which these are printed."""

    def __init__(self) -> None:
        checked = check_fleet(read_fleet(str(RECORDS)).tables, AS_OF)
        self.assessor = FleetAssessor(checked.fleet)
        self.assessment = self.assessor.assess(AS_OF, learning=self.assessor.learn(AS_OF))
        self.units = sorted(self.assessment.ranking["unit_id"])
        self.explained: dict[str, Explanation] = {
            one: explain(self.assessment, one) for one in self.units
        }

    def figures(self) -> Iterator[tuple[Figure, float]]:
        """Yield every number of every unit."""
        for unit_id, explanation in self.explained.items():
            for one in explanation.numbers:
                yield (unit_id, one.topic, one.name), one.value

    def page(self, unit_id: str) -> str:
        """Return the calculation sheet of a unit, as it is printed."""
        explanation = self.explained[unit_id]
        fleet = self.assessor.fleet
        return as_html(calculation_sheet(fleet, self.assessment, explanation, ()))

    def compared(self) -> Iterator[tuple[Figure, Compared]]:
        """Yield every number with a value beside what a plain script makes of it."""
        for unit_id in self.units:
            for one in compared(self.page(unit_id)):
                yield (unit_id, one.printed.topic, one.printed.name), one


def kept_figures() -> dict[Figure, tuple[float, str]]:
    """Return the kept figures, each with the words on how it was reckoned."""
    with KEPT.open(encoding="utf-8", newline="") as file:
        return {
            (row["unit_id"], row["topic"], row["figure"]): (
                float(row["value"] or "nan"),
                row["reckoned"],
            )
            for row in csv.DictReader(file)
        }


def how_reckoned(value: float, one: Compared | None) -> str:
    """Say whether a figure was reckoned a second time, and if not why."""
    if one is None or math.isnan(value):
        return "no value"
    return "yes" if one.reckoned else f"no: {NOT_RECKONED[one.printed.name]}"


def main() -> int:
    """Write the figures anew; return an exit status."""
    golden = Golden()
    again = dict(golden.compared())
    with KEPT.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["unit_id", "topic", "figure", "value", "reckoned"])
        for figure, value in golden.figures():
            told = "" if math.isnan(value) else f"{value:.{DIGITS}g}"
            writer.writerow([*figure, told, how_reckoned(value, again.get(figure))])
    return 0


if __name__ == "__main__":
    sys.exit(main())
