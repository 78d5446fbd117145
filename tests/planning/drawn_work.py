"""Sets of work and windows drawn at random, and the best plan by looking at every one."""

from itertools import product

import numpy as np
import pandas as pd

from scoring.planning.shutdowns import Shutdowns, table_of_windows

AS_OF = pd.Timestamp("2026-06-30")
SITES = ("pit", "quay")


def draw_sets(draw, n_units, most_sets=3, sites=SITES):
    """Draw some sets of work for each of some units; a third of the units is on hold."""
    counts = draw.integers(1, most_sets + 1, n_units)
    unit = np.repeat(np.arange(n_units), counts)
    size = len(unit)
    held = draw.random(n_units) < 0.34
    return pd.DataFrame(
        {
            "unit": unit,
            "unit_id": [f"U{n}" for n in unit],
            "site": np.array(sites, dtype=object)[draw.integers(0, len(sites), n_units)[unit]],
            "hours": draw.integers(1, 20, size) / 2,
            "people": draw.integers(1, 4, size),
            "crane": draw.random(size) < 0.3,
            "lead_days": draw.choice([0, 0, 7, 21], size),
            "loss_avoided": np.round(draw.gamma(1.0, 500.0, size), 2),
            "clears_hold": held[unit] & (draw.random(size) < 0.7),
            "cost": draw.integers(0, 900, size),
        }
    )


def draw_windows(draw, n_windows, hours=20):
    """Draw windows, each open for one site or for all."""
    rows = [
        {
            "window": f"w{n}",
            "sites": draw.choice([None, *SITES]),
            "starts_on": AS_OF + pd.Timedelta(days=int(draw.integers(0, 40))),
            "crew_hours": float(draw.integers(2, 2 * hours)) / 2,
            "people": draw.choice([None, 2, 3]),
            "crane": draw.choice([None, "yes", "no"]),
        }
        for n in range(n_windows)
    ]
    return Shutdowns(table_of_windows(rows), AS_OF)


def allowed(one, window):
    """Tell in plain words whether a set of work may be done in a window by itself."""
    open_there = pd.isna(window["sites"]) or one["site"] == window["sites"]
    people = pd.isna(window["people"]) or one["people"] <= window["people"]
    crane = not one["crane"] or window["crane"] != "no"
    parts = AS_OF + pd.Timedelta(days=int(one["lead_days"])) <= window["starts_on"]
    return open_there and people and crane and parts


def best_by_looking_at_every_plan(sets, shutdowns, *, holds_first=True):
    """Return holds lifted and loss avoided of the best plan of all."""
    windows = shutdowns.table.to_dict("records")
    options = []
    for _, rows in sets.groupby("unit"):
        own = [(None, None)]
        for one in rows.to_dict("records"):
            own += [(one, n) for n, window in enumerate(windows) if allowed(one, window)]
        options.append(own)
    best = (0, 0.0)
    for plan in product(*options):
        used = np.zeros(len(windows))
        for one, n in plan:
            if one is not None:
                used[n] += one["hours"]
        if all(u <= w["crew_hours"] for u, w in zip(used, windows, strict=True)):
            done = [one for one, _ in plan if one is not None]
            lifted = sum(one["clears_hold"] for one in done) if holds_first else 0
            best = max(best, (lifted, sum(one["loss_avoided"] for one in done)))
    return best
