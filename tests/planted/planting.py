"""A copy of the program in which a developer has declared two more checks and an action.

It changes what DEVELOPERS.md says under "Add a check" and "Add a re-work action", and nothing else.
"""

import json
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
COMMAND = str(Path(sys.executable).parent / "mount-risk")
RUN = Path(__file__).with_name("run_commands.py")

CHECKS = """\
    Check(
        name="weld_condition",
        label="weld of the arm bracket",
        about=About.ARM,
        seen=Seen.STOPPED,
        options={"sound": "sound all along", "cracked_through": "cracked through"},
        how_to_look="lamp and glass along both welds of the bracket",
        good="sound",
        critical_for=EVERY_MOUNTING,
    ),
    Check(
        name="bracket_play_mm",
        label="play of the arm bracket",
        about=About.ARM,
        seen=Seen.STOPPED,
        kind=Kind.NUMBER,
        unit="mm",
        worse=Worse.MORE,
        minimum=0,
        how_to_look="dial indicator on the bracket, push and pull by hand",
        good="little",
    ),
"""
"""A listed check, and a measured one of which not even what is good is said."""

ACTION = """\
    Action(
        name="mend_weld",
        does="grind out the weld of the bracket and weld it anew",
        cures=("weld_condition",),
    ),
"""

RULE = """\
    Rule(
        name="weld_cracked",
        check="weld_condition",
        severity=Severity.CORRECT,
        reason="weld of the bracket {value}",
        why="a bracket that breaks lets the unit turn with the shaft",
        action="mend_weld",
        origin=PLANNING_VALUE,
    ),
"""

STEP = '''\
"""Walkdowns: weld and play of the arm bracket."""

from scoring.store.migrations.columns_added import columns_added

revision, down_revision = "9999", "{newest}"
upgrade, downgrade = columns_added("walkdowns", texts="weld_condition", numbers="bracket_play_mm")
'''


@dataclass(frozen=True)
class Told:
    """What a command said: its exit code, all it printed, and what it died of, if it did."""

    code: int
    said: str
    died_of: str


@dataclass(frozen=True)
class Copy:
    """A copy of the program.

    Attributes
    ----------
    folder : Path
        Holds the packages; goes before everything else that is installed.
    """

    folder: Path

    @property
    def environment(self) -> dict[str, str]:
        """The environment in which Python and ``mount-risk`` are those of the copy."""
        return {**os.environ, "PYTHONPATH": str(self.folder), "PYTHONWARNINGS": "ignore"}

    def run(self, *commands: tuple[object, ...]) -> list[Told]:
        """Run commands, one after the other, in one process."""
        asked = json.dumps([[str(word) for word in words] for words in commands])
        done = subprocess.run(
            [sys.executable, str(RUN)],
            input=asked,
            capture_output=True,
            text=True,
            env=self.environment,
            cwd=self.folder,
            check=False,
            timeout=600,
        )
        assert done.returncode == 0, done.stderr
        report = json.loads(done.stdout)
        assert report["runs_from"] == str(self.folder)
        return [Told(**reported) for reported in report["told"]]


def copy_of_the_program(folder: Path) -> Copy:
    """Copy the packages, as they are in this repository."""
    for package in ("scoring", "dashboard", "demo_data"):
        shutil.copytree(
            ROOT / package, folder / package, ignore=shutil.ignore_patterns("__pycache__", "truth")
        )
    return Copy(folder)


def plant(copy: Copy) -> None:
    """Do what a developer does who adds the checks and the action."""
    scoring = copy.folder / "scoring"
    into_the_list(scoring / "contract" / "checks_of_the_arm.py", CHECKS)
    into_the_list(scoring / "contract" / "actions_at_the_arm.py", ACTION)
    into_the_list(scoring / "rules" / "torque_arm.py", RULE)
    steps = scoring / "store" / "migrations" / "versions"
    newest = max(path.name[1:5] for path in steps.glob("v[0-9]*.py"))
    (steps / "v9999_welds.py").write_text(STEP.replace("{newest}", newest), encoding="utf-8")


def into_the_list(file: Path, entry: str) -> None:
    """Write an entry at the end of the one list that a file ends with."""
    text = file.read_text(encoding="utf-8")
    assert text.endswith("\n)\n")
    file.write_text(text.removesuffix(")\n") + entry + ")\n", encoding="utf-8")
