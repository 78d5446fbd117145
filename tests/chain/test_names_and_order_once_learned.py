"""Once a fleet's failures are learned from, names and the order of records still change nothing."""

from functools import cache

import numpy as np
import pandas as pd
import pytest
from fleets import Book
from generated_fleets import AS_OF, TABLES, generated_book

from scoring.assessment import Assessment, FleetAssessor
from scoring.contract.events import MODES

FLEET = (200, 5)
NEARLY = {"rtol": 1e-9, "atol": 1e-12}


@cache
def assessed(of: str) -> Assessment:
    book = OTHER_BOOKS[of](generated_book(*FLEET))
    assessor = FleetAssessor(book.fleet())
    return assessor.assess(AS_OF, learning=assessor.learn(AS_OF))


def as_it_is(book: Book) -> Book:
    return book


def shuffled(book: Book) -> Book:
    chance = np.random.default_rng(3)
    tables = {name: getattr(book, name) for name in TABLES}
    return Book(**{
        name: [rows[n] for n in chance.permutation(len(rows))] for name, rows in tables.items()
    })  # fmt: skip


def renamed(book: Book) -> Book:
    """Name units, sites and crews so that they sort the other way round."""
    names = {
        "unit_id": backwards({row["unit_id"] for row in book.units}, "u"),
        "site": backwards({row["site"] for row in book.units}, "s"),
    }
    crews = {row.get("installer", "") for row in book.units}
    crews |= {row["crew"] for row in (*book.events, *book.rework)}
    names["installer"] = names["crew"] = backwards(crews - {""}, "c")

    def with_new_names(row):
        return {key: names.get(key, {}).get(cell, cell) for key, cell in row.items()}

    return Book(**{name: [*map(with_new_names, getattr(book, name))] for name in TABLES})


def backwards(names, letter):
    return {name: f"{letter}{n:04d}" for n, name in enumerate(sorted(names, reverse=True))}


OTHER_BOOKS = {
    "as it is": as_it_is,
    "shuffled": shuffled,
    "renamed": renamed,
    "renamed and shuffled": lambda book: shuffled(renamed(book)),
}


def by_first_name(of: str, values: np.ndarray) -> pd.Series:
    """Lay values out by the names that units had before."""
    unit_id = assessed(of).known.units["unit_id"]
    if of.startswith("renamed"):
        new = backwards({row["unit_id"] for row in generated_book(*FLEET).units}, "u")
        unit_id = unit_id.map({b: a for a, b in new.items()})
    return pd.Series(values, index=unit_id.to_numpy(dtype=object)).sort_index()


def test_these_fleets_do_teach_something():
    learning = assessed("as it is").learning
    assert set(learning.used) >= {"low_speed_bearing", "seal_leak"}
    assert all(learning.basis[mode].failures > 0 for mode in ("low_speed_bearing", "seal_leak"))


@pytest.mark.parametrize("of", [of for of in OTHER_BOOKS if of != "as it is"])
@pytest.mark.parametrize("mode", MODES)
def test_chances_and_their_intervals_are_the_same(of, mode):
    one, other = (assessed(name).risk.modes[mode] for name in ("as it is", of))
    for what in ("expected", "probability", "low", "high", "log_spread"):
        a = by_first_name("as it is", getattr(one, what))
        b = by_first_name(of, getattr(other, what))
        pd.testing.assert_series_equal(a, b, **NEARLY)
    if one.correction is None:
        assert other.correction is None
        return
    parts = [r.correction.parts for r in (one, other)]
    for part in range(parts[0].shape[1]):
        a = by_first_name("as it is", parts[0][:, part])
        b = by_first_name(of, parts[1][:, part])
        pd.testing.assert_series_equal(a, b, rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize("of", [of for of in OTHER_BOOKS if of != "as it is"])
def test_the_basis_is_chosen_alike(of):
    one, other = (assessed(name).learning.basis for name in ("as it is", of))
    for mode in MODES:
        assert (one[mode].used, one[mode].why) == (other[mode].used, other[mode].why)
        for gain in ("likelihood", "proportions", "concordance"):
            a, b = (getattr(basis[mode], gain) for basis in (one, other))
            assert (a.value, a.error) == pytest.approx(
                (b.value, b.error), rel=1e-6, abs=1e-9, nan_ok=True
            )


def test_the_whole_ranking_is_the_same_in_whatever_order_records_stand():
    one, other = (assessed(of).ranking for of in ("as it is", "shuffled"))
    pd.testing.assert_frame_equal(one, other, rtol=1e-9)
