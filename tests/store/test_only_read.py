"""A store that may only be read can be ranked; nobody can put anything into it."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import psycopg
import pytest
from small_fleet import good, refused

ASKED = ("--handbook-only", "--as-of", "2026-06-30", "--show", "3")
RUN = "import sys; from scoring.cli.main import main; sys.exit(main())"


def without_privilege(*words: str) -> subprocess.CompletedProcess[str]:
    """Run a command as one whom permissions bind, which root is not by himself."""
    bind = ["setpriv", "--bounding-set=-all", "--inh-caps=-all"] if os.geteuid() == 0 else []
    if bind and shutil.which("setpriv") is None:
        pytest.skip("setpriv is not installed: apt-get install util-linux")
    command = [*bind, sys.executable, "-c", RUN, *words]
    return subprocess.run(command, capture_output=True, text=True, check=False)


@pytest.mark.slow
@pytest.mark.parametrize("closed", ["file", "folder", "both"])
def test_a_file_or_folder_that_may_only_be_read(tmp_path: Path, closed: str) -> None:
    folder = tmp_path / "kept #1"
    folder.mkdir()
    address = f"sqlite:///{folder / 'plant 100%.db'}"
    good("load", "demo:small_quarry", "--store", address, "--by", "Ann Bell")
    expected = without_privilege("rank", address, *ASKED)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    if closed != "folder":
        (folder / "plant 100%.db").chmod(0o444)
    if closed != "file":
        folder.chmod(0o555)
    ranked = without_privilege("rank", address, *ASKED)
    load = ("load", "demo:small_quarry", "--store", address, "--by", "Bo Carr")
    loaded = without_privilege(*load)
    folder.chmod(0o755)
    assert ranked.stdout == expected.stdout
    assert ranked.returncode == expected.returncode == 0
    assert loaded.returncode != 0
    assert "cannot be used: attempt to write a readonly database" in loaded.stderr
    assert "Traceback" not in loaded.stderr + ranked.stderr
    assert {name: (folder / name).read_bytes() for name in before} == before


@pytest.mark.parametrize("store_url", ["postgresql"], indirect=True)
def test_a_person_of_postgresql_who_may_only_select(store_url: str) -> None:
    good("load", "demo:small_quarry", "--store", store_url, "--by", "Ann Bell")
    expected = good("rank", store_url, *ASKED)
    viewer, stranger = (store_url.replace("app@", f"{name}@") for name in ("viewer", "stranger"))
    with psycopg.connect(store_url, autocommit=True) as connection:
        for name in ("viewer", "stranger"):
            connection.execute(f"CREATE ROLE {name} LOGIN")
        connection.execute("GRANT SELECT ON ALL TABLES IN SCHEMA public TO viewer")
    assert good("rank", viewer, *ASKED) == expected
    told = refused("load", "demo:small_quarry", "--store", viewer, "--by", "Bo Carr")
    assert "cannot be used: permission denied" in told
    assert "cannot be used: permission denied" in refused("rank", stranger, *ASKED)
