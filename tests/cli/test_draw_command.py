"""The pictures of one unit as files, as a person asks for them."""

from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner
from kept_plants import GRAIN_PORT

from scoring.cli.main import cli
from scoring.drawing.look_tokens import LIGHT
from scoring.errors import FixableError
from scoring.files.write_picture import safe_name, write_pictures

CLAMPED_UNIT = (GRAIN_PORT, "--unit", "SH-099", "--as-of", "2026-06-30")
SVG = "{http://www.w3.org/2000/svg}"


def draw(out, *arguments, exit_code=0):
    result = CliRunner().invoke(cli, ["draw", *arguments, "--out", str(out)])
    got = getattr(result.exception, "exit_code", result.exit_code)
    assert got == exit_code, result.output + repr(result.exception)
    return result


def test_it_writes_each_picture_and_says_where(tmp_path):
    out = tmp_path / "new" / "pictures"
    said = draw(out, *CLAMPED_UNIT).output
    names = ["SH-099_joint.svg", "SH-099_arm.svg", "SH-099_screws.svg", "SH-099_walk.svg"]
    assert sorted(path.name for path in out.iterdir()) == sorted(names)
    for name in names:
        assert str(out / name) in said
        root = ET.parse(out / name).getroot()  # noqa: S314 - our own file is what is tested
        assert "SH-099" in root.findtext(f"{SVG}title", "")
    assert "2  clamp screws low or missing: 1\n" in said
    assert "lock out and tag out" in said


def test_a_keyed_unit_has_no_picture_of_screws(tmp_path):
    draw(tmp_path, GRAIN_PORT, "--unit", "NQ-219", "--as-of", "2026-06-30")
    words = sorted(path.stem.rpartition("_")[2] for path in tmp_path.iterdir())
    assert words == ["arm", "joint", "walk"]


def test_drawn_again_it_replaces_what_was_drawn(tmp_path):
    draw(tmp_path, *CLAMPED_UNIT)
    light = (tmp_path / "SH-099_walk.svg").read_text(encoding="utf-8")
    draw(tmp_path, *CLAMPED_UNIT, "--theme", "paper")
    paper = (tmp_path / "SH-099_walk.svg").read_text(encoding="utf-8")
    assert LIGHT.hold in light
    assert LIGHT.hold not in paper


def test_a_final_torque_is_taken_from_the_person_alone(tmp_path):
    draw(tmp_path, *CLAMPED_UNIT, "--final-torque", "123.5")
    assert "123.5" in (tmp_path / "SH-099_screws.svg").read_text(encoding="utf-8")


@pytest.mark.parametrize("torque", ["0", "-5", "nan", "inf", "much"])
def test_a_final_torque_that_is_none_is_refused(tmp_path, torque):
    said = draw(tmp_path / "out", *CLAMPED_UNIT, "--final-torque", torque, exit_code=2).output
    assert "--final-torque" in said
    assert not (tmp_path / "out").exists()


def test_an_unknown_unit_is_told_and_nothing_written(tmp_path):
    result = draw(tmp_path / "out", GRAIN_PORT, "--unit", "nobody", exit_code=2)
    assert isinstance(result.exception, FixableError)
    assert "no unit 'nobody' was in service" in str(result.exception)
    assert not (tmp_path / "out").exists()


def test_a_folder_that_cannot_be_made_is_told(tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(FixableError, match="give another folder: --out"):
        write_pictures({"walk": "<svg/>"}, "U-1", tmp_path / "file" / "folder")


@pytest.mark.parametrize("unit_id", ["../../etc/x", "a\\b", "C:x", ".", "..", 'a"<b>|?*', "a\nb"])
def test_no_id_leads_out_of_the_folder(tmp_path, unit_id):
    (path,) = write_pictures({"walk": "<svg/>"}, unit_id, tmp_path)
    assert path.parent == tmp_path
    assert path.is_file()
    assert not set('\\/:*?"<>|\n') & set(path.name)


def test_two_ids_never_share_a_file():
    ids = ["a/b", "a_b", "a%2Fb", "a b", "a.b", "A/B", "ä/b"]
    assert len({safe_name(unit_id) for unit_id in ids}) == len(ids)
