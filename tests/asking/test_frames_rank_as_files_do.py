"""What is taken from DataFrames is what files say: digits, faults, words; nothing is changed."""

import datetime as dt
from decimal import Decimal
from functools import cache

import numpy as np
import pandas as pd
import pytest
from click.testing import CliRunner
from demo_frames import DAY, frames_of
from hypothesis import given, settings
from hypothesis import strategies as st

import scoring
from scoring.asking import frames_as_text
from scoring.cli.main import cli
from scoring.contract import RANKING
from scoring.files.arrow_as_text import arrow_as_text

FEW = {
    "unit_id": ["A-1", "A-2", "A-3"],
    "site": ["quarry", "quarry", "port"],
    "installed_on": ["2026-01-31", "2026-02-28", "2026-03-31"],
    "mounting": ["keyed_bore", "tapered_bushing", "shrink_disc"],
    "shaft_diameter_mm": [80, 65, 100],
}


def few(**changed):
    return pd.DataFrame(FEW | changed)


@pytest.mark.parametrize("as_text", [True, False])
@pytest.mark.parametrize("plant", ["small_quarry", "grain_port"])
def test_a_plant_ranks_in_the_same_digits_as_on_the_command_line(plant, as_text, tmp_path):
    out = tmp_path / "ranking.parquet"
    asked = CliRunner().invoke(
        cli, ["rank", f"demo:{plant}", "--as-of", DAY, "--out", str(out)], catch_exceptions=False
    )
    assert asked.exit_code == 0
    records = scoring.take(**frames_of(plant, as_text=as_text))
    assert records.faults.empty
    ranking = scoring.rank(records, as_of=DAY)
    ours, theirs = tmp_path / "ours.parquet", pd.read_parquet(out)
    ranking.to_parquet(ours, index=False)
    pd.testing.assert_frame_equal(pd.read_parquet(ours), theirs, check_exact=True)


@cache
def _small():
    frames = frames_of("small_quarry", as_text=False)
    return frames, scoring.rank(scoring.take(**frames), as_of=DAY, handbook_only=True)


@settings(max_examples=8, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_order_of_rows_and_columns_changes_nothing(seed):
    frames, expected = _small()
    rng = np.random.default_rng(seed)
    turned = {
        name: frame.iloc[rng.permutation(len(frame)), rng.permutation(frame.shape[1])]
        for name, frame in frames.items()
    }
    before = {name: frame.copy(deep=True) for name, frame in turned.items()}
    ranking = scoring.rank(scoring.take(**turned), as_of=DAY, handbook_only=True)
    pd.testing.assert_frame_equal(ranking, expected, rtol=1e-12)
    for name, frame in turned.items():
        pd.testing.assert_frame_equal(frame, before[name], check_exact=True)


def test_what_is_handed_out_may_be_changed_without_changing_what_is_asked_next():
    records = scoring.take(few())
    stands = scoring.assess(records, as_of=DAY)
    ranking, units = stands.ranking, records.tables["units"]
    ranking["rank"], units["site"] = 7, "elsewhere"
    ranking.loc[0, "expected_loss"] = -1.0
    assert stands.ranking["rank"].tolist() == [1, 2, 3]
    assert stands.ranking["expected_loss"].min() > 0
    assert "elsewhere" not in set(records.fleet().units["site"])


def test_faults_are_those_of_the_same_file_in_the_same_words(tmp_path):
    wrong = {
        "unit_id": ["A-1", "A-1", "A-3"],
        "shaft_diameter_mm": ["80,5", "65", "#N/A"],
        "installed_on": ["2026-01-31", "2026-01-31", "31.3.2026"],
        "colour": ["red", "red", "blue"],
    }
    units = few(**wrong).set_index(pd.Index(["first", "second", "third"]))
    walkdowns = pd.DataFrame(
        {
            "walkdown_id": [1, 2],
            "unit_id": ["A-9", "A-3"],
            "inspected_on": pd.to_datetime(["2026-04-01", "2026-04-02"]),
            "kind": ["installation", "periodic"],
        },
        index=[10, 20],
    )
    units.to_csv(tmp_path / "units.csv", index=False)
    walkdowns.to_csv(tmp_path / "walkdowns.csv", index=False)
    of_files, of_frames = scoring.read(tmp_path), scoring.take(units, walkdowns)
    same = ["table", "column", "value"]
    pd.testing.assert_frame_equal(of_frames.faults[same], of_files.faults[same])
    assert of_frames.faults["index_label"].tolist() == [
        {"units": ["first", "second", "third"], "walkdowns": [10, 20]}[fault.table][fault.row - 2]
        for fault in of_files.faults.itertuples()
    ]
    third = "index label 'third' of the DataFrame units"
    for words in ("wrong", "right"):
        in_files = of_files.faults[words].str.replace("row 4 of units.csv", third)
        assert of_frames.faults[words].tolist() == in_files.tolist()
    assert f"that row mended first, {third}" in of_frames.faults["right"].tolist()
    assert of_frames.notes[0] == of_files.notes[0].replace("units.csv", "the DataFrame units")


def test_two_rows_of_one_key_name_each_other_by_their_labels():
    twice = few(unit_id=["A-1", "A-1", "A-3"]).set_index(pd.Index(["x", "y", "z"]))
    wrong = scoring.take(twice).faults["wrong"].tolist()
    assert wrong == [
        f"names two different rows, this one and index label {other!r} of the DataFrame units"
        for other in ("y", "x")
    ]


def test_units_of_measure_go_by_their_headings():
    millimetres = few(shaft_diameter_mm=[74.6125, 65, 100])
    inches = few(shaft_diameter_in=["2 15/16", 65 / 25.4, 100 / 25.4])
    inches = inches.drop(columns="shaft_diameter_mm")
    given, read = (scoring.take(one).tables["units"] for one in (millimetres, inches))
    np.testing.assert_allclose(read["shaft_diameter_mm"], given["shaft_diameter_mm"], rtol=1e-15)


@pytest.mark.parametrize(
    "days",
    [
        pd.to_datetime(FEW["installed_on"]),
        pd.Series([dt.date.fromisoformat(day) for day in FEW["installed_on"]]),
        pd.Series([pd.Timestamp(day) for day in FEW["installed_on"]], dtype=object),
        pd.Series([np.datetime64(day) for day in FEW["installed_on"]], dtype=object),
        pd.Series(FEW["installed_on"], dtype="category"),
    ],
)
@pytest.mark.parametrize(
    "diameters",
    [
        pd.Series([80, 65, 100], dtype="Int64"),
        pd.Series([80, 65, 100], dtype="float32"),
        pd.Series([Decimal(80), Decimal("65.0"), Decimal(100)]),
        pd.Series([80, 65.0, "100"], dtype=object),
        pd.Series([np.int16(80), np.float64(65), "100"], dtype=object),
    ],
)
def test_every_type_of_pandas_says_the_same(days, diameters):
    read = scoring.take(few(installed_on=days, shaft_diameter_mm=diameters))
    assert read.faults.empty
    pd.testing.assert_frame_equal(read.tables["units"], scoring.take(few()).tables["units"])


def test_cells_of_any_type_are_not_converted_one_by_one(monkeypatch):
    calls = []
    monkeypatch.setattr(
        frames_as_text, "arrow_as_text", lambda *given: calls.append(1) or arrow_as_text(*given)
    )
    frames = frames_of("small_quarry", as_text=False)
    mixed = {name: frame.astype(object) for name, frame in frames.items()}
    read, expected = scoring.take(**mixed), scoring.take(**frames)
    assert len(calls) <= 2 * sum(frame.shape[1] for frame in frames.values())
    for name, frame in expected.tables.items():
        pd.testing.assert_frame_equal(read.tables[name], frame, check_exact=True)


@pytest.mark.parametrize("missing", [None, np.nan, pd.NA, pd.NaT, ""])
def test_what_is_missing_is_not_known(missing):
    asked = few(line=pd.Series(["belt 1", missing, "belt 2"], dtype=object))
    assert scoring.take(asked).tables["units"]["line"].isna().tolist() == [False, True, False]


def test_own_headings_are_mapped_as_in_files():
    own = few().rename(columns={"unit_id": "Getriebe", "site": "Werk"})
    mapping = {"units": {"Getriebe": "unit_id", "Werk": "site"}}
    records = scoring.take(own, headings=mapping)
    assert records.tables["units"]["unit_id"].tolist() == FEW["unit_id"]


def test_units_alone_are_enough():
    ranking = scoring.rank(scoring.take(few()), as_of=DAY)
    assert ranking.columns.tolist() == [column.name for column in RANKING.columns]
    assert set(ranking["verdict"]) == {"watch"}


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (lambda: scoring.take({"unit_id": []}), "units is a dict; right is a pandas DataFrame"),
        (lambda: scoring.take(few().set_index("unit_id")), "give units.reset_index()"),
        (
            lambda: scoring.take(few(line=[["a"], None, None])),
            "the DataFrame units, column line: at index label 0 stands a list; text, numbers",
        ),
        (
            lambda: scoring.take(few(line=pd.period_range("2026", periods=3, freq="Y"))),
            "the DataFrame units, column line is of type extension<pandas.period",
        ),
        (
            lambda: scoring.rank(scoring.take(few(site=["quarry", None, "port"])), as_of=DAY),
            "keep_good=True\n  the DataFrame units, index label 1, column site: is empty; right is",
        ),
        (
            lambda: scoring.rank(scoring.take(few().drop(columns="mounting")), as_of=DAY),
            "the table units cannot be used at all",
        ),
        (
            lambda: scoring.rank(scoring.take(few(site=[None] * 3)), keep_good=True),
            "no unit is left without a fault",
        ),
        (
            lambda: scoring.take(few(line=pd.to_timedelta([1, 2, 3], unit="D"))),
            "the DataFrame units, column line is of type duration",
        ),
        (lambda: scoring.rank(scoring.take(few()), as_of="30.6.2026"), "as_of is '30.6.2026'"),
        (lambda: scoring.rank(scoring.take(few()), as_of="1999-01-01"), "no unit was in service"),
        (
            lambda: scoring.rank(scoring.take(few()), horizon_days=0),
            "horizon_days is 0; right is a whole number from 1 to 3650",
        ),
        (lambda: scoring.read("nowhere"), "there is no folder or workbook nowhere"),
        (lambda: scoring.columns("nothing"), "there is no table 'nothing'; right is one of units"),
        (
            lambda: scoring.assess(scoring.take(few()), handbook_only=True, learned="folder"),
            "handbook_only, learned and prior exclude each other",
        ),
    ],
)
def test_what_a_person_can_put_right_is_said(asked, words):
    with pytest.raises(scoring.FixableError) as told:
        asked()
    assert words in str(told.value)


def test_good_rows_alone_where_that_is_asked():
    records = scoring.take(few(site=["quarry", None, "port"]))
    ranking = scoring.rank(records, as_of=DAY, keep_good=True)
    assert sorted(ranking["unit_id"]) == ["A-1", "A-3"]
    assert records.rejected["units"]["unit_id"].tolist() == ["A-2"]
