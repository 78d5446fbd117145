"""A file or folder gets to its place whole, or nothing is left of it there."""

import os
import stat

import pytest

from scoring.errors import FixableError
from scoring.files.whole_file import whole_file, whole_folder

FULL = OSError(28, "No space left on device")


def half(path):
    path.write_text("half", encoding="utf-8")
    raise FULL


def test_a_file_that_fails_leaves_what_was_there(tmp_path):
    path = tmp_path / "ranking.csv"
    path.write_text("earlier", encoding="utf-8")

    def write():
        with whole_file(path) as place:
            half(place)

    with pytest.raises(OSError, match="No space left"):
        write()
    assert [one.name for one in tmp_path.iterdir()] == ["ranking.csv"]
    assert path.read_text(encoding="utf-8") == "earlier"


def test_a_file_takes_the_place_of_an_earlier_one_and_its_rights(tmp_path):
    path, link = tmp_path / "ranking.csv", tmp_path / "latest.csv"
    path.write_text("earlier", encoding="utf-8")
    path.chmod(0o640)
    link.symlink_to(path)
    with whole_file(link) as place:
        place.write_text("later", encoding="utf-8")
        assert path.read_text(encoding="utf-8") == "earlier"
    assert link.is_symlink()
    assert path.read_text(encoding="utf-8") == "later"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_what_is_no_file_is_written_to_as_it_is(tmp_path):
    if not hasattr(os, "mkfifo"):
        pytest.skip("no pipes with a name here")
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with whole_file(pipe) as place:
        assert place == pipe


@pytest.mark.parametrize("is_there", [True, False])
def test_a_folder_that_fails_holds_nothing(tmp_path, is_there):
    folder = tmp_path / "out"
    if is_there:
        folder.mkdir()

    def write():
        with whole_folder(folder) as place:
            (place / "units.csv").write_text("whole", encoding="utf-8")
            half(place / "walkdowns.csv")

    with pytest.raises(FixableError, match=r"out cannot be written \(No space left on device\)"):
        write()
    assert [one.name for one in tmp_path.rglob("*")] == (["out"] if is_there else [])


@pytest.mark.parametrize("is_there", [True, False])
def test_a_folder_gets_there_whole(tmp_path, is_there):
    folder = tmp_path / "deep" / "out"
    if is_there:
        folder.mkdir(parents=True)
    with whole_folder(folder) as place:
        (place / "units.csv").write_text("whole", encoding="utf-8")
    assert [one.name for one in (tmp_path / "deep").iterdir()] == ["out"]
    assert (folder / "units.csv").read_text(encoding="utf-8") == "whole"
