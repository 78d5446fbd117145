"""A data set ranked in pieces gives the ranking of one go: the same rows, order and digits."""

import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from click.testing import CliRunner
from kept_plants import SMALL_QUARRY
from small_data_sets import text_tables, write_data_set

from scoring.cli.main import cli
from scoring.errors import FixableError
from scoring.pieces import cut_by_unit as cutting
from scoring.pieces import piece_folder

DAY = "2026-06-30"


@pytest.fixture(scope="module")
def tables():
    return text_tables(SMALL_QUARRY)


@pytest.fixture(scope="module")
def data_set(tables, tmp_path_factory):
    return write_data_set(tables, tmp_path_factory.mktemp("works"))


@pytest.fixture(autouse=True)
def small_pieces(monkeypatch):
    monkeypatch.setattr(piece_folder, "UNITS_OF_A_PIECE", 12)
    monkeypatch.setattr(cutting, "ROWS_OF_A_STRETCH", 40)


def rank(*words):
    done = CliRunner().invoke(cli, ["rank", *map(str, words), "--as-of", DAY])
    assert done.exit_code == 0, done.output
    return done.output


def one_go(tmp_path, *words):
    rank(SMALL_QUARRY, *words, "--out", tmp_path / "one_go.parquet")
    return pd.read_parquet(tmp_path / "one_go.parquet")


def in_pieces(data_set, tmp_path, *words):
    rank(data_set, *words, "--out", tmp_path / "pieces.parquet")
    return pd.read_parquet(tmp_path / "pieces.parquet")


def the_same(one, other):
    pd.testing.assert_frame_equal(one, other, rtol=1e-9, atol=0)


@pytest.mark.parametrize("basis", ["--handbook-only", "--learned", "learn"])
def test_the_same_ranking(data_set, tmp_path, basis):
    words = [] if basis == "learn" else [basis]
    if basis == "--learned":
        kept = tmp_path / "learned"
        learn = ["learn", SMALL_QUARRY, "--as-of", DAY, "--out", str(kept)]
        assert CliRunner().invoke(cli, learn).exit_code == 0
        words.append(kept)
    the_same(in_pieces(data_set, tmp_path, *words), one_go(tmp_path, *words))


def test_several_processes_rank_as_one(data_set, tmp_path):
    words = ("--handbook-only", "--workers", "2", "--scratch", tmp_path / "scratch")
    the_same(in_pieces(data_set, tmp_path, *words), one_go(tmp_path, "--handbook-only"))
    assert list((tmp_path / "scratch").iterdir()) == []


def test_the_same_is_told(data_set):
    said = rank(data_set, "--handbook-only", "--show", "3")
    one = rank(SMALL_QUARRY, "--handbook-only", "--show", "3")
    ranked, of_one = (words[words.index("units in service") :] for words in (said, one))
    assert ranked == of_one
    count = [words.count("contradict") for words in (said, one)]
    assert count[0] == count[1]


def test_csv_is_written_as_in_one_go(data_set, tmp_path):
    rank(data_set, "--handbook-only", "--out", tmp_path / "pieces.csv")
    rank(SMALL_QUARRY, "--handbook-only", "--out", tmp_path / "one.csv")
    assert (tmp_path / "pieces.csv").read_bytes() == (tmp_path / "one.csv").read_bytes()


def refused(*words):
    done = CliRunner().invoke(cli, ["rank", *map(str, words), "--as-of", DAY])
    assert done.exit_code, done.output
    assert isinstance(done.exception, FixableError | SystemExit)
    return f"{done.output}{done.exception}"


def with_cell(table, heading, row, text):
    cells = table.column(heading).to_pylist()
    cells[row] = text
    return table.set_column(table.column_names.index(heading), heading, pa.array(cells))


def test_a_fault_is_told_with_its_own_row(tables, tmp_path):
    spoilt = with_cell(tables["walkdowns"], "inspected_on", 10, "tomorrow")
    folder = write_data_set({**tables, "walkdowns": spoilt}, tmp_path / "set")
    said = refused(folder, "--handbook-only")
    assert "1 fault" in said
    where = said[: said.index(", row")].split()[-1]
    row = int(said.split(", row ")[1].split(",")[0])
    faulty = pq.read_table(folder / where).slice(row - 2, 1)
    assert faulty.column("inspected_on").to_pylist() == ["tomorrow"]


def test_no_file_mends_a_row_of_another(tables, tmp_path):
    walkdowns = tables["walkdowns"]
    spoilt = with_cell(walkdowns.slice(0, 1), "inspected_on", 0, "tomorrow")
    folder = write_data_set({**tables, "walkdowns": walkdowns}, tmp_path / "set")
    pq.write_table(spoilt, folder / "walkdowns" / "a-before-all.parquet")
    assert "1 fault" in refused(folder, "--handbook-only")


def test_one_id_in_two_pieces_is_refused(tables, tmp_path):
    ids = tables["walkdowns"].column("walkdown_id").to_pylist()
    twice = with_cell(tables["walkdowns"], "walkdown_id", len(ids) - 1, ids[0])
    folder = write_data_set({**tables, "walkdowns": twice}, tmp_path / "set")
    assert repr(ids[0]) in refused(folder, "--handbook-only")


def test_what_does_not_go_together_is_refused(data_set, tmp_path):
    assert "--add" in refused(data_set, "--add", SMALL_QUARRY)
    assert ".csv, .parquet" in refused(data_set, "--out", tmp_path / "ranking.xlsx")
    assert "no scheduler" in refused(data_set, "--cluster", "tcp://127.0.0.1:1")
