"""Records that memory holds, judged in pieces: the ranking of one go, and each row in one piece."""

import numpy as np
import pandas as pd
import pytest
from click.testing import CliRunner
from kept_plants import GRAIN_PORT, ORE_WORKS, SMALL_QUARRY

from scoring.cli import rank_command, ranked_in_pieces
from scoring.cli.main import cli
from scoring.contract import FLEET_TABLES
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.pieces import piece_folder
from scoring.pieces.part_fleet import part_fleet
from scoring.pieces.piece_folder import PieceFolder

DAY = "2026-06-30"


def rank(*words):
    done = CliRunner().invoke(cli, ["rank", SMALL_QUARRY, *map(str, words), "--as-of", DAY])
    assert done.exit_code == 0, done.output
    return done.output


@pytest.fixture
def small_pieces(monkeypatch):
    monkeypatch.setattr(piece_folder, "UNITS_OF_A_PIECE", 12)


@pytest.fixture(scope="module")
def fleet():
    return check_fleet(read_fleet(SMALL_QUARRY).tables, pd.Timestamp(DAY)).fleet


@pytest.mark.usefixtures("small_pieces")
@pytest.mark.parametrize("words", [("--handbook-only",), ()], ids=["handbook", "learned"])
@pytest.mark.parametrize("suffix", [".csv", ".xlsx"])
def test_the_same_ranking_and_words(tmp_path, words, suffix):
    said = {}
    for name, more in {"one": (), "pieces": ("--workers", "1")}.items():
        out = tmp_path / f"{name}{suffix}"
        said[name] = rank(*words, *more, "--out", out).replace(out.name, "")
    one, pieces = (
        pd.read_csv(path) if suffix == ".csv" else pd.read_excel(path)
        for path in (tmp_path / f"one{suffix}", tmp_path / f"pieces{suffix}")
    )
    pd.testing.assert_frame_equal(one, pieces, rtol=1e-7, atol=0)
    of_units = [words[words.index("units in service") :] for words in said.values()]
    assert of_units[0] == of_units[1]


@pytest.mark.usefixtures("small_pieces")
def test_two_processes_judge_as_one(tmp_path):
    for workers in "12":
        rank("--handbook-only", "--workers", workers, "--out", tmp_path / f"{workers}.csv")
    assert (tmp_path / "1.csv").read_bytes() == (tmp_path / "2.csv").read_bytes()


def test_many_units_are_judged_in_pieces_unasked(monkeypatch):
    asked = []
    monkeypatch.setattr(ranked_in_pieces, "MANY_TO_JUDGE", 10)
    monkeypatch.setattr(rank_command, "tell_pieces", lambda *given: asked.append(given))
    rank("--handbook-only")
    assert len(asked) == 1


@pytest.mark.usefixtures("small_pieces")
def test_learning_may_begin_with_other_plants(tmp_path):
    kept = str(tmp_path / "kept")
    learn = ["learn", GRAIN_PORT, ORE_WORKS, "--as-of", DAY, "--out", kept]
    assert CliRunner().invoke(cli, learn).exit_code == 0
    one, pieces = (rank("--prior", kept, *more, "--show", "3") for more in ((), ("--workers", "1")))
    assert "learning began with 2 other plants" in one
    assert pieces == one


@pytest.mark.parametrize("pieces", [1, 3, 7])
def test_each_row_is_in_the_piece_of_its_unit(fleet, tmp_path, pieces):
    kept = PieceFolder(tmp_path, pieces)
    part_fleet(fleet, kept)
    parts = [kept.good_rows(number) for number in range(pieces)]
    of_unit = {unit: number for number, part in enumerate(parts) for unit in part.units["unit_id"]}
    for table in FLEET_TABLES:
        frames = [part.table(table.name) for part in parts]
        for number, frame in enumerate(frames):
            assert {of_unit[unit] for unit in frame["unit_id"]} <= {number}
        together = pd.concat(frames, ignore_index=True)
        whole = fleet.table(table.name)
        order = np.argsort([of_unit[unit] for unit in whole["unit_id"]], kind="stable")
        pd.testing.assert_frame_equal(together, whole.take(order).reset_index(drop=True))


def test_units_of_one_reducer_stay_together(fleet, tmp_path):
    units = fleet.units.copy()
    units.loc[units.index[[0, -1]], "asset_id"] = "R-1"
    kept = PieceFolder(tmp_path, 5)
    part_fleet(type(fleet)(**vars(fleet) | {"units": units}), kept)
    with_it = [
        number for number in range(5) if (kept.good_rows(number).units["asset_id"] == "R-1").any()
    ]
    assert with_it == [0]
