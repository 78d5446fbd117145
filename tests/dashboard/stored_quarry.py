"""The small kept plant in a store of its own, for tests that enter something."""

import shutil
from pathlib import Path

from click.testing import CliRunner
from kept_plants import SMALL_QUARRY

from scoring.cli.main import cli


def load_quarry(file: Path) -> str:
    """Load the plant into a store in a file; return its address."""
    url = f"sqlite:///{file}"
    done = CliRunner().invoke(cli, ["load", SMALL_QUARRY, "--store", url, "--by", "Lea Stone"])
    assert done.exit_code == 0, done.output
    return url


def copy_of(loaded: Path, folder: Path) -> str:
    """Copy a store that was loaded, so that a test may write into it; return its address."""
    return f"sqlite:///{shutil.copy(loaded, folder / 'own.db')}"
