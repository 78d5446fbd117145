"""Ask for the ranking of tables, as a user asks for it."""

import re
from pathlib import Path

import pandas as pd
from click.testing import CliRunner
from messy_fleet import Tables

from scoring.cli.main import cli


def write_tables(tables: Tables, folder: Path) -> None:
    folder.mkdir(parents=True)
    for name, rows in tables.items():
        rows.to_csv(folder / f"{name}.csv", index=False)


def ranking(tables: Tables, as_of: str, folder: Path) -> pd.DataFrame:
    """Write the tables into a folder that is not there yet, and rank them as of a day."""
    write_tables(tables, folder)
    out = folder.parent / f"{folder.name}_ranking.csv"
    given = ["rank", str(folder), "--as-of", as_of, "--out", str(out)]
    result = CliRunner().invoke(cli, given, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return pd.read_csv(out)


def by_id_as_written(ranked: pd.DataFrame, pattern: str) -> pd.DataFrame:
    """Name units as each plant names its own; the site tells one plant from another."""
    if not pattern:
        return ranked
    assert ranked["unit_id"].is_unique
    found = ranked["unit_id"].map(lambda text: re.search(pattern, text).group())
    ranked = ranked.assign(unit_id=found).sort_values(["site", "unit_id"])
    return ranked.reset_index(drop=True)
