"""Choose the fifty units by a seed, from plants of five natures, and write their records.

This file was run once. The records that it wrote are kept, and not made anew: neither the generator
nor a plant that changes can move a figure.
"""

import sys
from collections.abc import Iterator
from io import StringIO
from pathlib import Path

import numpy as np
import pandas as pd

from demo_data.generate import generate_fleet

HERE = Path(__file__).parent
KEPT = HERE.parent / "frozen_plants" / "plants"
SEED = 20261129
UNITS = 50
OF_EACH = 4
"""So many units at least have each oddity."""

TABLES = ("units", "walkdowns", "events", "rework", "accepted")
Plant = dict[str, pd.DataFrame]


def plants() -> Iterator[tuple[str, Plant]]:
    """Yield three plain plants that are kept, of other costs and words each, and two wide ones."""
    for letter, name in zip("QGO", ("small_quarry", "grain_port", "ore_works"), strict=True):
        folder = KEPT / name
        yield letter, {one: pd.read_csv(folder / f"{one}.csv", dtype=str) for one in TABLES}
    for letter, seed in (("V", 9301), ("W", 9302)):
        fleet = generate_fleet(120, seed, family="wide")
        yield letter, {one: as_text(getattr(fleet, one)) for one in TABLES}


def as_text(table: pd.DataFrame) -> pd.DataFrame:
    text = table.to_csv(index=False)
    return pd.read_csv(StringIO(text), dtype=str)


def renamed(letter: str, plant: Plant) -> Plant:
    """Mark what plants have in common by name, and give them one currency."""
    marked = {name: table.copy() for name, table in plant.items()}
    for table in marked.values():
        for column in table.columns.intersection(MARKED):
            table[column] = (letter + "-" + table[column]).where(table[column].notna())
    marked["units"]["currency"] = marked["units"]["currency"].where(
        marked["units"]["currency"].isna(), "EUR"
    )
    return marked


MARKED = [
    *("unit_id", "walkdown_id", "event_id", "rework_id", "accepted_id", "asset_id", "stoppage_id"),
    *("site", "line", "installer", "crew", "inspector", "accepted_by"),
]


def oddities(plant: Plant) -> dict[str, set[str]]:
    """Return the units of each oddity."""
    seen, units = plant["walkdowns"], plant["units"]

    def where(column: str, *words: str) -> set[str]:
        return set(seen.loc[seen[column].isin(words), "unit_id"])

    few = seen[["torque_passes"]].astype(float).lt(3).any(axis="columns")
    mode = plant["events"].groupby("mode")["unit_id"].agg(set)
    actions = plant["rework"]["actions"]
    return {
        "no torque on the nameplate": set(
            units.loc[units["output_torque_nm"].isna() & units["motor_power_kw"].isna(), "unit_id"]
        ),
        "no walkdown": set(units["unit_id"]) - set(seen["unit_id"]),
        "isolators do not turn": where("isolators_free", "0"),
        "lubricant in the bore": where("bore_condition", "oil_film", "antiseize_or_grease"),
        "short of its engagement": where("shaft_end", "short") | where("seated", "short"),
        "passes skipped": set(seen.loc[few, "unit_id"]),
        "metal touches metal": where("metal_contact", "yes"),
        "seal drips": where("seal_weep", "dripping"),
        "finding released": set(plant["accepted"]["unit_id"]),
        "re-worked": set(plant["rework"]["unit_id"]),
        "hung anew": set(
            plant["rework"].loc[actions.str.contains("reseat|clean|exchange"), "unit_id"]
        ),
        **{f"failed: {name}": set(some) for name, some in mode.items() if name != "other"},
    }


def choose() -> list[tuple[str, Plant]]:
    """Return the records of the units that are drawn, plant by plant."""
    marked = [(letter, renamed(letter, plant)) for letter, plant in plants()]
    of_unit: dict[str, tuple[str, str]] = {}
    odd: dict[str, set[str]] = {}
    for letter, plant in marked:
        stands = plant["units"][plant["units"]["out_of_service_on"].isna()]
        of_unit |= {row.unit_id: (letter, row.mounting) for row in stands.itertuples()}
        for name, some in oddities(plant).items():
            odd.setdefault(name, set()).update(some)
    drawn: list[str] = []
    order = np.random.default_rng(SEED).permutation(sorted(of_unit)).tolist()

    def crowded(unit_id: str) -> tuple[int, int, int]:
        """Return how many of its plant and mounting are drawn already: fewest come first."""
        letter, mounting = of_unit[unit_id]
        kinds = [of_unit[one] for one in drawn]
        return (
            sum(one == (letter, mounting) for one in kinds),
            sum(one[1] == mounting for one in kinds),
            order.index(unit_id),
        )

    for some in odd.values():
        while len(some & set(drawn)) < OF_EACH:
            left = [one for one in order if one in some and one not in drawn]
            if not left:
                break
            drawn.append(min(left, key=crowded))
    while len(drawn) < UNITS:
        drawn.append(min((one for one in order if one not in drawn), key=crowded))
    for name, some in odd.items():
        sys.stdout.write(f"{len(some & set(drawn)):3} {name}\n")
    return [
        (letter, {name: table[table["unit_id"].isin(drawn)] for name, table in plant.items()})
        for letter, plant in marked
    ]


def main() -> int:
    """Write the records of the chosen units; return an exit status."""
    chosen = choose()
    for name in TABLES:
        table = pd.concat([plant[name] for _, plant in chosen], ignore_index=True)
        table = table.dropna(axis="columns", how="all")
        table.to_csv(HERE / "records" / f"{name}.csv", index=False, lineterminator="\n")
        sys.stdout.write(f"{len(table):4} rows of {name}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
