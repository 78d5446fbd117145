"""What a person reads on the terminal: faults, rankings, cautions."""

import sys

import pandas as pd
from rich import box
from rich.markup import escape
from rich.table import Table
from rich.text import Text

from scoring.asking.faults_in_words import fault_line
from scoring.cli.harmless_console import HarmlessConsole
from scoring.contract.events import MODES
from scoring.left_out import without_secrets

WIDTH_WITHOUT_TERMINAL = 110
"""Width of tables that go to a file or a pipe. [character]"""

LEAST_SHOWN = 0.001
"""A smaller chance is only said to be smaller. Ours. [-]"""


def _console(*, stderr: bool) -> HarmlessConsole:
    width = None if sys.stdout.isatty() else WIDTH_WITHOUT_TERMINAL
    return HarmlessConsole(stderr=stderr, highlight=False, width=width)


out = _console(stderr=False)
err = _console(stderr=True)

VERDICT_MARKS = {
    "hold": "■ hold",
    "correct": "▲ correct",
    "watch": "○ watch",
    "no_finding": "· none",
}
"""A verdict is a word with a shape; colour never stands alone."""


def say(text: str) -> None:
    """Print plain text to the person, as it is."""
    out.print(Text(without_secrets(text)), soft_wrap=True)


def warn(text: str) -> None:
    """Print plain text beside the result, so that a pipe carries the result alone."""
    err.print(Text(without_secrets(text)), soft_wrap=True)


def show_faults(faults: pd.DataFrame, most: int | None = None) -> None:
    """Print faults, one a line."""
    shown = faults if most is None else faults.head(most)
    for fault in shown.to_dict("records"):
        say(fault_line(fault))
    if len(faults) > len(shown):
        say(f"... and {len(faults) - len(shown)} more; mount-risk check FLEET prints them all")


def show_worst(ranking: pd.DataFrame, most: int) -> None:
    """Print the worst units as a table that a person can read, with their chances of failing."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False)
    table.add_column("rank", justify="right")
    table.add_column("unit", overflow="fold")
    table.add_column("site", overflow="fold")
    table.add_column("verdict", no_wrap=True)
    table.add_column("bearing", justify="right", no_wrap=True)
    table.add_column("seal", justify="right", no_wrap=True)
    table.add_column("slip", justify="right", no_wrap=True)
    table.add_column("why, the worst first", ratio=3)
    table.add_column("what to do first", ratio=2)
    for _, row in ranking.head(most).iterrows():
        table.add_row(
            str(row["rank"]),
            escape(str(row["unit_id"])),
            escape(str(row["site"])),
            VERDICT_MARKS[str(row["verdict"])],
            *(percent(row[f"p_{mode}"]) for mode in MODES),
            escape(_or_blank(row["main_reasons"])),
            escape(_or_blank(row["first_action"])),
        )
    out.print(table)


def percent(share: float) -> str:
    """Write a chance; a small one never as none at all.

    Examples
    --------
    >>> percent(0.21), percent(0.012), percent(0.0002)
    ('21%', '1.2%', '<0.1%')
    """
    if 0 < share < LEAST_SHOWN:
        return f"<{LEAST_SHOWN:.1%}"
    return f"{share:.0%}" if share >= 0.0995 else f"{share:.1%}"


def counted(count: int, what: str) -> str:
    """Write how many there are of something.

    Examples
    --------
    >>> counted(1, "fault"), counted(3, "fault")
    ('1 fault', '3 faults')
    """
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _or_blank(value: object) -> str:
    return value if isinstance(value, str) else ""
