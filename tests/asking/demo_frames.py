"""The tables of a demo plant as a caller would have them: DataFrames made by pandas."""

from importlib import resources

import pandas as pd

from scoring.contract import TABLE_BY_NAME

DAY = "2026-06-30"


def frames_of(plant, *, as_text):
    """Return a plant's tables, typed by pandas or left as text."""
    folder = resources.files("demo_data") / plant
    kinds = {"dtype": str} if as_text else {}
    return {
        name: pd.read_csv(folder / f"{name}.csv", **kinds)
        for name in TABLE_BY_NAME
        if (folder / f"{name}.csv").is_file()
    }
