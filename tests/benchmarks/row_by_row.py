"""Rank a fleet row by row, as a plain script does it: what it takes without columns.

``python row_by_row.py FOLDER RANKING.csv``. Of every unit the newest word of each check that no
re-work on record has cured since; holds first, then by how many findings. It knows neither limits
nor hazards, so it does far less than the ranking that it is timed against.
"""

import csv
import sys
from pathlib import Path

from scoring.contract import CHECKS
from scoring.contract.rework import ACTION_BY_NAME

HOLDS = {
    ("support_bushings", "missing"),
    ("key_condition", "missing"),
    ("retention", "missing"),
    ("arm_bolts", "missing"),
    ("isolator_stack", "isolator_missing"),
    ("metal_contact", "yes"),
    ("oil_level", "low"),
    ("backstop_direction", "wrong"),
    ("guard", "missing"),
}
GOOD = {check.name: next(iter(check.options)) for check in CHECKS if check.options}


def rows_of(folder, table):
    with (Path(folder) / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def newest_looks(folder):
    """Return the day and the word of each check that still counts, by unit."""
    newest = {row["unit_id"]: {} for row in rows_of(folder, "units")}
    for row in rows_of(folder, "walkdowns"):
        for check in GOOD:
            if row.get(check):
                day, _ = newest[row["unit_id"]].get(check, ("", ""))
                if row["inspected_on"] >= day:
                    newest[row["unit_id"]][check] = row["inspected_on"], row[check]
    for row in rows_of(folder, "rework"):
        for action in row["actions"].split(";"):
            for check in ACTION_BY_NAME[action].cures:
                day, _ = newest[row["unit_id"]].get(check, ("9", ""))
                if row["done_on"] >= day:
                    del newest[row["unit_id"]][check]
    return newest


def main(folder, out):
    ranked = []
    for unit, looks in newest_looks(folder).items():
        found = [(check, word) for check, (_, word) in looks.items() if word != GOOD[check]]
        holds = [pair for pair in found if pair in HOLDS]
        ranked.append((-len(holds), -len(found), unit, "; ".join(" ".join(pair) for pair in found)))
    with Path(out).open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["rank", "unit_id", "verdict", "reasons"])
        for rank, (holds, findings, unit, reasons) in enumerate(sorted(ranked), 1):
            verdict = "hold" if holds else "rework" if findings else "ok"
            writer.writerow([rank, unit, verdict, reasons])


if __name__ == "__main__":
    main(*sys.argv[1:])
