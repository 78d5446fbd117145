"""What a wheel and an archive of the source hold: what a user needs, and no truth of the plants."""

import shutil
import subprocess
import sys
import tarfile
import zipfile
from email.parser import Parser
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
OURS = ("scoring", "dashboard", "demo_data")


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """Build both from this tree; return their paths by kind."""
    folder = tmp_path_factory.mktemp("built")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-d", str(folder)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    return {"wheel": next(folder.glob("*.whl")), "sdist": next(folder.glob("*.tar.gz"))}


@pytest.fixture(scope="module")
def wheel_names(built):
    with zipfile.ZipFile(built["wheel"]) as wheel:
        return set(wheel.namelist())


@pytest.fixture(scope="module")
def tracked():
    """Return the files that git keeps below our packages."""
    listed = subprocess.run(
        [str(shutil.which("git")), "ls-files", *OURS],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    return set(listed.stdout.splitlines())


def test_the_wheel_holds_every_file_of_ours_but_truth_and_pictures(wheel_names, tracked):
    left_out = {
        name for name in tracked if "/truth/" in name or name.startswith("dashboard/pictures/")
    }
    assert left_out  # else this test would show nothing
    ours = {name for name in wheel_names if name.startswith(tuple(f"{one}/" for one in OURS))}
    assert ours == tracked - left_out


def test_the_wheel_brings_three_names_and_no_other(wheel_names):
    top = {name.split("/")[0] for name in wheel_names if ".dist-info/" not in name}
    assert top == set(OURS)


@pytest.mark.parametrize("package", OURS)
def test_types_are_for_users_too(wheel_names, package):
    assert f"{package}/py.typed" in wheel_names


def test_what_few_need_is_an_extra(built):
    with zipfile.ZipFile(built["wheel"]) as wheel:
        name = next(one for one in wheel.namelist() if one.endswith("/METADATA"))
        needs = Parser().parsestr(wheel.read(name).decode()).get_all("Requires-Dist", [])
    of_all = [need for need in needs if "extra ==" not in need]
    assert not [need for need in of_all if need.startswith("psycopg")]
    assert [need for need in needs if need.startswith("psycopg") and "postgresql" in need]


def test_the_archive_of_the_source_makes_the_same_wheel(built, wheel_names, tmp_path):
    with tarfile.open(built["sdist"]) as archive:
        archive.extractall(tmp_path, filter="data")
    (source,) = tmp_path.iterdir()
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path / "again")],
        cwd=source,
        check=True,
        capture_output=True,
    )
    with zipfile.ZipFile(next((tmp_path / "again").glob("*.whl"))) as wheel:
        assert set(wheel.namelist()) == wheel_names
