"""What a fleet's own failures say, as tables on a terminal of 100 columns."""

from collections.abc import Callable, Hashable, Mapping
from string import ascii_lowercase

import numpy as np
import pandas as pd
from rich import box
from rich.markup import escape
from rich.table import Table

from scoring.cli.screen import out, say
from scoring.explanation.what_the_fleet_says import share_in_words

Row = Mapping[Hashable, object]

NOTHING_ADDED = 1.005
"""A finding that multiplies by less is shown in one line with others. Ours. [-]"""


def show_effects(effects: pd.DataFrame) -> None:
    """Print what the handbook and the fleet say of each effect, what matters most first."""
    found = effects[effects["unit_years"] > 0]
    found = found.sort_values(["accounts_for", "fleet"], ascending=False, kind="stable")
    usual, *others = effects["origin"].value_counts().index
    mark = {origin: f" ({letter})" for origin, letter in zip(others, ascii_lowercase, strict=False)}
    _show(
        found,
        {
            "effect at its worst": lambda row: (
                _label_and_state(row) + mark.get(str(row["origin"]), "")
            ),
            "handbook x": lambda row: _interval(row, "handbook", 1),
            **_of_others(found, 1),
            "fleet x": lambda row: _interval(row, "fleet", 1),
            **_EXPOSURE,
        },
    )
    _say_others("never found here", effects[effects["unit_years"] == 0])
    marked = "".join(f";{letter}: {origin}" for origin, letter in mark.items())
    say(f"the handbook's numbers rest on: {usual}{marked}")


def show_findings(findings: pd.DataFrame) -> None:
    """Print what findings add that the handbook has no word for."""
    seen = findings[findings["unit_years"] > 0].sort_values("fleet", ascending=False, kind="stable")
    adds = seen["fleet"] >= NOTHING_ADDED
    if adds.any():
        columns = {
            "finding": _label,
            **_of_others(seen, 2),
            "fleet x": lambda row: _interval(row, "fleet", 2),
            **_EXPOSURE,
        }
        _show(seen[adds], columns)
    _say_others("no more than the handbook says", seen[~adds])


def show_nameplate(rows: pd.DataFrame) -> None:
    """Print what numbers and words on the nameplate do, what matters most first."""
    rows = rows.sort_values("accounts_for", ascending=False, kind="stable")
    there = rows["unit_years"] > 0
    columns = {
        "nameplate": _label_and_state,
        "handbook x": lambda row: _interval(row, "handbook", 2),
        **_of_others(rows, 2),
        "fleet x": lambda row: _interval(row, "fleet", 2),
        **_EXPOSURE,
    }
    _show(rows[there], columns)
    _say_others("on no nameplate, or nowhere above the usual", rows[~there])


def show_others(rows: pd.DataFrame) -> None:
    """Print sites, a unit's own failures, early life and level."""
    columns = {
        "what": _label_and_state,
        "before x": lambda row: _interval(row, "handbook", 2),
        **_of_others(rows, 2),
        "fleet x": lambda row: _interval(row, "fleet", 2),
        **_EXPOSURE,
    }
    _show(rows, columns)


def show_crews(crews: pd.DataFrame) -> None:
    """Print the failures of what each crew hung, beside those expected."""
    columns = {
        "installer": lambda row: escape(str(row["installer"])),
        "units": lambda row: f"{row['units']:.0f}",
        "unit-\nyears": _years,
        "failures\n(expected)": _failures,
        "ratio of both\n(90 % limits)": lambda row: _interval(row, "ratio", 2),
        "drawn\ntowards 1": lambda row: _interval(row, "drawn", 2),
        "faults seen at first\nlooks (expected)": _faults,
    }
    _show(crews, columns)


def _of_others(rows: pd.DataFrame, digits: int) -> dict[str, Callable[[Row], str]]:
    """Return the column of what other plants say, where learning began with them."""
    if "others" not in rows or rows["others"].isna().all():
        return {}
    return {"other plants x": lambda row: _interval(row, "others", digits)}


def _show(rows: pd.DataFrame, columns: Mapping[str, Callable[[Row], str]]) -> None:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, padding=(0, 1, 0, 0))
    for place, heading in enumerate(columns):
        table.add_column(heading, justify="left" if place == 0 else "right", no_wrap=place > 0)
    for row in rows.to_dict("records"):
        table.add_row(*(write(row) for write in columns.values()))
    out.print(table)


def _say_others(what: str, rows: pd.DataFrame) -> None:
    if len(rows):
        say(f"{what}: {', '.join(rows['label'])}")


def _label(row: Row) -> str:
    return escape(str(row["label"]))


def _label_and_state(row: Row) -> str:
    state = f": {row['state']}" if row["state"] else ""
    return escape(f"{row['label']}{state}")


def _number(row: Row, name: str) -> float:
    value = row[name]
    return float(value) if isinstance(value, int | float) else float("nan")


def _interval(row: Row, name: str, digits: int) -> str:
    middle, low, high = (
        _factor(_number(row, f"{name}{end}"), digits) for end in ("", "_low", "_high")
    )
    return f"{middle} ({low} to {high})"


def _factor(value: float, digits: int) -> str:
    return f"{value:.{digits}f}" if value < 9.95 else f"{value:.0f}"


def _failures(row: Row) -> str:
    return f"{_number(row, 'failures'):.0f} ({_number(row, 'expected'):.1f})"


def _years(row: Row) -> str:
    return f"{_number(row, 'unit_years'):,.0f}"


def _learned(row: Row) -> str:
    share = _number(row, "share_learned")
    return f"{share_in_words(share)} {share:3.0%}"


def _faults(row: Row) -> str:
    faults = _number(row, "faults")
    return "" if np.isnan(faults) else f"{faults:.0f} ({_number(row, 'faults_expected'):.0f})"


_EXPOSURE: dict[str, Callable[[Row], str]] = {
    "failures\n(expected)": _failures,
    "unit-\nyears": _years,
    "learned": _learned,
}
