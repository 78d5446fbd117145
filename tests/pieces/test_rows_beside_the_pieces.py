"""What is learned from lies on disk beside the pieces: the same rows as in memory."""

import errno
import os

import numpy as np
import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY

from scoring.assessment import FleetWide
from scoring.contract.events import MODES
from scoring.errors import FixableError
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.learning.rows_of_pieces import rows_together
from scoring.pieces.part_fleet import part_fleet
from scoring.pieces.piece_files import room_for_numbers
from scoring.pieces.piece_folder import PieceFolder
from scoring.pieces.rank_in_pieces import look_in_pieces
from scoring.pieces.rank_pieces import lay_out_rows
from scoring.pieces.workers import workers

DAY = pd.Timestamp("2026-06-30")


def arrays_of(kept):
    return {name: one for name, one in vars(kept).items() if isinstance(one, np.ndarray)}


def rows_of(kept, room):
    with workers() as work:
        of_fleet = look_in_pieces(kept, work, DAY)
        wide = FleetWide.of(DAY, of_fleet)
        sizes = [lay_out_rows(kept, number, wide) for number in range(kept.pieces)]
    pieces = (kept.hand_over_failure_rows(number) for number in range(kept.pieces))
    return rows_together(pieces, sizes, [one.units for one in of_fleet], room)


@pytest.fixture
def kept(tmp_path):
    fleet = check_fleet(read_fleet(SMALL_QUARRY).tables, DAY).fleet
    kept = PieceFolder(tmp_path, 5)
    part_fleet(fleet, kept)
    return kept


def test_rows_on_disk_are_those_in_memory(kept):
    in_memory, on_disk = rows_of(kept, np.zeros), rows_of(kept, kept.room)
    for mode in MODES:
        two = [(rows, rows.modes[mode], rows.modes[mode].state) for rows in (in_memory, on_disk)]
        for one, other in zip(*two, strict=True):
            assert arrays_of(one).keys() == arrays_of(other).keys()
            for name, values in arrays_of(one).items():
                np.testing.assert_array_equal(arrays_of(other)[name], values, strict=True)
                if len(values):
                    assert values.strides == arrays_of(other)[name].strides
    assert isinstance(on_disk.place.base, np.memmap)


def test_rows_of_pieces_are_gone_once_they_are_together(kept):
    rows_of(kept, kept.room)
    assert not list(kept.folder.glob("rows-*"))


def test_room_for_nothing_needs_no_file(tmp_path):
    assert room_for_numbers(tmp_path, (0, 3), np.dtype(float)).shape == (0, 3)
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(not hasattr(os, "posix_fallocate"), reason="no such call on this system")
def test_a_full_disk_is_said_before_anything_is_written(tmp_path, monkeypatch):
    def full(*_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "posix_fallocate", full)
    with pytest.raises(FixableError, match=r"no room for what is learned from.*--scratch"):
        PieceFolder(tmp_path, 1).room((3,), np.dtype(float))
