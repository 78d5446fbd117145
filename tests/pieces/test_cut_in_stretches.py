"""Files cut in stretches, by whomever: the pieces of one go, row for row."""

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from kept_plants import SMALL_QUARRY
from small_data_sets import text_tables

from scoring.pieces import cut_by_unit as cutting
from scoring.pieces import piece_folder
from scoring.pieces.data_set import TableFiles, find_data_set

ROWS_OF_A_GROUP = 30


@pytest.fixture(scope="module")
def data_set(tmp_path_factory):
    """Write each table into two files of small row groups, the first of them shorter."""
    folder = tmp_path_factory.mktemp("set")
    for name, table in text_tables(SMALL_QUARRY).items():
        (folder / name).mkdir()
        third = len(table) // 3
        for place, part in enumerate((table.slice(0, third), table.slice(third))):
            path = folder / name / f"part-{place}.parquet"
            pq.write_table(part, path, row_group_size=ROWS_OF_A_GROUP)
    return find_data_set(str(folder))


@pytest.mark.parametrize("rows", [1, 31, 100, 10**6])
def test_stretches_are_all_rows_in_order(data_set, rows):
    for name, below in data_set.items():
        table = TableFiles.of(name, below)
        stretches = table.stretches(rows)
        groups = [
            (place, group)
            for stretch in stretches
            for place, some in stretch.items()
            for group in some
        ]
        assert groups == [(place, g) for place, some in table.whole.items() for g in some]
        sizes = [
            sum(table.groups[place][g] for place, some in stretch.items() for g in some)
            for stretch in stretches
        ]
        assert sum(sizes) == table.rows == sum(pq.read_metadata(p).num_rows for p in table.paths)
        assert all(rows <= size < rows + ROWS_OF_A_GROUP for size in sizes[:-1])


@pytest.mark.parametrize("rows", [1, 31, 100])
def test_pieces_rest_on_no_stretch(data_set, tmp_path, monkeypatch, rows):
    monkeypatch.setattr(piece_folder, "UNITS_OF_A_PIECE", 12)
    in_one_go = cutting.cut_by_unit(data_set, tmp_path / "one")
    monkeypatch.setattr(cutting, "ROWS_OF_A_STRETCH", rows)
    by_others = []

    def work(task, asked):
        by_others.extend(asked)
        for one in reversed(asked):  # whoever is ready first
            task(*one)

    cut = cutting.cut_by_unit(data_set, tmp_path / "other", work)
    assert len(by_others) > len(data_set)
    assert cut.pieces == in_one_go.pieces > 2
    for number in range(cut.pieces):
        for name, table in in_one_go.piece(number).items():
            other = cut.piece(number)[name]
            np.testing.assert_array_equal(other.rows, table.rows)
            for one, again in zip(table.cells, other.cells, strict=True):
                assert texts(again) == texts(one)


def texts(cells):
    return (cells.dictionary_decode() if pa.types.is_dictionary(cells.type) else cells).to_pylist()
