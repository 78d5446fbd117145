"""What the README says a command prints is what it prints."""

from pathlib import Path
from shlex import split

from click.testing import CliRunner

from scoring.cli import screen
from scoring.cli.main import cli

README = Path(__file__).parents[2] / "README.md"


def test_the_ranking_in_the_readme_is_the_one_printed(monkeypatch):
    monkeypatch.setattr(screen.out, "width", 110)
    before, _, after = README.read_text(encoding="utf-8").partition("```text\n")
    command = before.rpartition("`mount-risk ")[2].partition("`")[0]
    shown = after.partition("```")[0]
    printed = CliRunner().invoke(cli, split(command)).stdout
    assert printed.split() == shown.split()
