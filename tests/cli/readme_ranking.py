"""The ranking that README prints; run this file to write it anew.

``python tests/cli/readme_ranking.py`` is for a change of the demo plants or of a number.
"""

from pathlib import Path
from shlex import split

from click.testing import CliRunner

from scoring.cli import screen
from scoring.cli.main import cli

README = Path(__file__).parents[2] / "README.md"
WIDTH = 110
"""How wide it is printed. [characters]"""


def shown_and_printed() -> tuple[str, str, str, str]:
    """Return README up to its first block of text, that block, the rest, and what is printed."""
    before, _, after = README.read_text(encoding="utf-8").partition("```text\n")
    shown, _, rest = after.partition("```")
    command = before.rpartition("`mount-risk ")[2].partition("`")[0]
    lines = CliRunner().invoke(cli, split(command)).stdout.splitlines()
    return before, shown, rest, "".join(f"{line.rstrip()}\n" for line in lines)


def write_ranking() -> None:
    """Put what is printed in the place of what is shown."""
    screen.out.width = WIDTH
    before, _, rest, printed = shown_and_printed()
    README.write_text(f"{before}```text\n{printed}```{rest}", encoding="utf-8")


if __name__ == "__main__":
    write_ranking()
