"""Order, names and the number of jobs change no score; a fold never learns from itself."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from generated_fleets import AS_OF, failures_not_kept
from tried_fleets import (
    SITES,
    book_of_sites,
    rows_of_sites,
    validated,
    validation_of_sites,
)

from scoring.validation import schemes as module
from scoring.validation.schemes import (
    OTHER_SITES,
    OTHER_UNITS,
    UNIT_FOLDS,
    folds_of,
    predict_held_out,
)
from scoring.validation.scores import EXPECTED
from scoring.validation.validate import GROUPS, SCORES, validate

FLEET = (150, 9)


def assert_same_scores(one, other, rtol=1e-9):
    for name in ("scores", "groups", "gains", "compared"):
        pd.testing.assert_frame_equal(getattr(one, name), getattr(other, name), rtol=rtol)


def test_order_of_units_and_records_does_not_matter():
    book, draw = book_of_sites(*FLEET), np.random.default_rng(0)
    shuffled = replace(
        book,
        **{
            table: [rows[n] for n in draw.permutation(len(rows))]
            for table in ("units", "walkdowns", "events", "rework")
            if (rows := getattr(book, table))
        },
    )
    assert_same_scores(validated(shuffled), validation_of_sites(*FLEET), rtol=1e-6)


def test_names_of_units_do_not_matter_while_they_sort_alike():
    book = book_of_sites(*FLEET)
    renamed = replace(
        book,
        **{
            table: [{**row, "unit_id": f"K {row['unit_id']}"} for row in getattr(book, table)]
            for table in ("units", "walkdowns", "events", "rework")
        },
    )
    assert_same_scores(validated(renamed), validation_of_sites(*FLEET))


def test_names_of_sites_do_not_matter_while_they_sort_alike():
    book = book_of_sites(*FLEET)
    names = dict(zip(SITES, ("a", "b", "c"), strict=True))
    renamed = replace(book, units=[{**u, "site": names[u["site"]]} for u in book.units])
    assert_same_scores(validated(renamed), validation_of_sites(*FLEET))


def test_the_number_of_jobs_does_not_matter():
    one, two = validation_of_sites(*FLEET), validated(book_of_sites(*FLEET), n_jobs=2)
    for name in ("scores", "groups", "gains", "compared", "predictions"):
        pd.testing.assert_frame_equal(getattr(one, name), getattr(two, name), check_exact=True)


def test_folds_part_the_units_and_sites_stay_whole():
    rows = rows_of_sites(*FLEET)
    folds = folds_of(rows)
    places, first = np.unique(rows.place, return_index=True)
    site = rows.modes["seal_leak"].state.site[first]
    for scheme, count in ((OTHER_UNITS, UNIT_FOLDS), (OTHER_SITES, len(SITES))):
        held = np.array([fold.held_out[places] for fold in folds if fold.scheme == scheme])
        assert len(held) == count
        assert (held.sum(axis=0) == 1).all()
    for fold in folds:
        if fold.scheme == OTHER_SITES:
            assert len(np.unique(site[fold.held_out[places]])) == 1


def test_many_sites_are_left_out_several_together(monkeypatch):
    monkeypatch.setattr(module, "MOST_SITE_FOLDS", 2)
    rows = rows_of_sites(*FLEET)
    held = [fold.held_out for fold in folds_of(rows) if fold.scheme == OTHER_SITES]
    assert len(held) == 2
    assert (np.sum(held, axis=0)[np.unique(rows.place)] == 1).all()


@pytest.mark.parametrize("scheme", [OTHER_UNITS, OTHER_SITES])
def test_failures_of_those_held_out_teach_nothing_about_them(scheme):
    rows = rows_of_sites(*FLEET)
    fold = next(fold for fold in folds_of(rows) if fold.scheme == scheme)
    held = fold.held_out[rows.place]
    more = {
        mode: replace(one, events=np.where(held[:, np.newaxis], 0, one.events))
        for mode, one in rows.modes.items()
    }
    found, without = (predict_held_out(one, 2, fold) for one in (rows, replace(rows, modes=more)))
    ratio, ratio_without = (
        np.log(t["handbook and fleet"] / t["handbook"]).to_numpy() for t in (found, without)
    )
    never = ~found["place"].isin(rows.place[held & failed_before(rows)]).to_numpy()
    assert 0.3 < never.mean() < 1
    np.testing.assert_array_equal(ratio[never], ratio_without[never])


def failed_before(rows):
    """Rows with a failure: a unit's own counts for itself, whoever was learned from."""
    return sum(one.events.max(axis=1) for one in rows.modes.values()) > 0


def test_nothing_is_scored_where_failures_are_not_kept():
    found = validated(failures_not_kept(book_of_sites(*FLEET)))
    assert found.scores.empty
    assert tuple(found.scores.columns) == SCORES
    assert tuple(found.groups.columns) == GROUPS
    assert {basis.words for basis in found.basis.values()} == {"handbook"}


def test_nothing_is_scored_on_too_short_a_history():
    book = book_of_sites(*FLEET)
    late = (AS_OF - pd.Timedelta(days=200)).date().isoformat()
    since = dict.fromkeys(("failures_recorded_from", "slips_recorded_from"), late)
    short = replace(book, units=[{**u, **since} for u in book.units])
    found = validated(short)
    assert found.scores.empty
    assert {basis.words for basis in found.basis.values()} == {"handbook and fleet"}


def test_one_site_is_not_left_out():
    book = book_of_sites(*FLEET)
    together = replace(book, units=[{**unit, "site": "quarry"} for unit in book.units])
    assert set(validated(together).scores["scheme"]) == set(module.SCHEMES) - {OTHER_SITES}


def test_no_failure_to_predict_gives_no_order_but_limits():
    rows = rows_of_sites(*FLEET)
    quiet = {
        mode: replace(one, events=one.events * (rows.period == 0)[:, np.newaxis])
        for mode, one in rows.modes.items()
    }
    scores = validate(replace(rows, modes=quiet), 1).scores
    assert scores[["harrell", "uno", "slope", "worst_tenth"]].isna().all(axis=None)
    predicted = scores[scores["predicted_by"].isin(EXPECTED)]
    assert (predicted["ratio"] == 0).all()
    assert (predicted["ratio_high"] > 0).all()
    assert predicted["brier"].notna().all()
