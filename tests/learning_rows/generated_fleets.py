"""Invented fleets of tens to thousands of units, as books of text and ready to be assessed."""

from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pandas as pd
from fleets import Book

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor

AS_OF = pd.Timestamp("2026-06-30")
TABLES = ("units", "walkdowns", "events", "rework")
RECORDED_FROM = ("failures_recorded_from", "slips_recorded_from")
NOT_RECORDED = dict.fromkeys(RECORDED_FROM, "")


@cache
def generated_book(n_units: int, seed: int) -> Book:
    """Generate a fleet and read it as people would have written it down."""
    with TemporaryDirectory() as folder:
        write_fleet(generate_fleet(n_units, seed), folder)
        tables = {
            name: pd.read_csv(Path(folder) / f"{name}.csv", dtype=str, keep_default_na=False)
            for name in TABLES
        }
    return Book(**{name: table.to_dict("records") for name, table in tables.items()})


@cache
def generated_assessor(n_units: int, seed: int) -> FleetAssessor:
    return FleetAssessor(generated_book(n_units, seed).fleet())


def failures_not_kept(book: Book) -> Book:
    """Leave out every failure, and since when they are written down."""
    return replace(
        book,
        units=[{**unit, **NOT_RECORDED} for unit in book.units],
        events=[],
        rework=[{**row, "event_id": ""} for row in book.rework],
    )


def no_failure_yet(book: Book) -> Book:
    """Leave out every failure and leak; they would have been written down from the first."""
    quiet = failures_not_kept(book)
    return replace(
        quiet,
        units=[
            {**unit, **dict.fromkeys(RECORDED_FROM, unit["started_on"] or unit["installed_on"])}
            for unit in quiet.units
        ],
        walkdowns=[
            {
                **row,
                "seal_weep": row["seal_weep"].replace("dripping", "damp"),
                "witness_mark": row["witness_mark"].replace("moved", "in_line"),
            }
            for row in quiet.walkdowns
        ],
    )
