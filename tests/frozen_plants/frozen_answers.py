"""What is asked of the frozen plants, as a user asks it; run this file to write the answers anew.

``python tests/frozen_plants/frozen_answers.py`` is for a change that CHANGELOG.md sizes, and for no
other.
"""

import sys
import tempfile
from pathlib import Path

from click.testing import CliRunner

from scoring.cli.main import cli

HERE = Path(__file__).parent
PLANTS = ("small_quarry", "grain_port", "ore_works")

QUESTIONS: dict[str, tuple[str, ...]] = {
    "ranking": ("rank", "--out"),
    "ranking_by_the_handbook": ("rank", "--handbook-only", "--out"),
    "plan": ("plan", "--crew-hours", "120", "--out"),
    "plan_by_loss_alone": ("plan", "--crew-hours", "120", "--by-loss-alone", "--out"),
    "route": ("look", "--hours", "6", "--out"),
}
"""By the name of the answer: the words of the command, up to the file it writes."""


def answer(plant: str, question: str, path: Path) -> None:
    """Ask one question of one plant as of 2026-06-30; the answer goes to a file.

    Parameters
    ----------
    plant : str
        One of ``PLANTS``.
    question : str
        One of ``QUESTIONS``.
    path : Path
        A CSV file to be written.
    """
    command, *words = QUESTIONS[question]
    fleet = str(HERE / "plants" / plant)
    given = [command, fleet, "--as-of", "2026-06-30", *words, str(path)]
    result = CliRunner().invoke(cli, given, catch_exceptions=False)
    if result.exit_code != 0:
        raise AssertionError(f"{' '.join(given)} exits with {result.exit_code}:\n{result.output}")


def write_answers() -> int:
    """Write every answer anew beside this file; return an exit status."""
    with tempfile.TemporaryDirectory() as folder:
        for plant in PLANTS:
            for question in QUESTIONS:
                name = f"{plant}_{question}.csv"
                answer(plant, question, Path(folder) / name)
                text = (Path(folder) / name).read_bytes()
                (HERE / "answers" / name).write_bytes(text)
    return 0


if __name__ == "__main__":
    sys.exit(write_answers())
