"""``mount-risk``: the command and its parts."""

import sys
from importlib import import_module

import click

from scoring.cli.screen import warn
from scoring.errors import FixableError, UnreadableFleetError

COMMANDS = (
    "demo",
    "rank",
    "learn",
    "dashboard",
    "explain",
    "what-if",
    "look",
    "plan",
    "draw",
    "sheet",
    "effects",
    "validate",
    "check",
    "load",
    "export",
    "backup",
    "restore",
    "migrate",
    "columns",
    "template",
    "offline",
    "reading-plan",
    "headings",
    "tighten",
)
"""Each is in the file NAME_command.py, and is imported when it is asked for: some take seconds."""


class CommandsInFiles(click.Group):
    """A group whose commands are imported when they are asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the commands in the order of their use."""
        del ctx
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import a command, if there is one of that name."""
        del ctx
        if cmd_name not in COMMANDS:
            return None
        in_python = cmd_name.replace("-", "_")
        command: click.Command = getattr(
            import_module(f"scoring.cli.{in_python}_command"), in_python
        )
        return command


@click.group(cls=CommandsInFiles, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="mount-risk")
def cli() -> None:
    """Say which shaft-mounted reducers must not run, and which to re-work first.

    FLEET is a folder of CSV or Parquet files (units, walkdowns, events, rework, accepted), one
    XLSX workbook with sheets of those names, or demo:NAME for an invented demo plant. Files of
    your own shape are read by a plan: mount-risk reading-plan. Several plants: NORTH=FLEET
    SOUTH=FLEET.
    """


def main() -> None:
    """Run the command; what a person can put right is reported without a traceback."""
    # A Windows console may not know the marks of the verdicts; better a ? than a crash.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        cli()
    except FixableError as error:
        warn(f"mount-risk: {error}")
        sys.exit(error.exit_code)
    except MemoryError:
        warn(
            "mount-risk: this takes more memory than there is; give fewer records at a time, or "
            "use a computer with more memory"
        )
        sys.exit(UnreadableFleetError.exit_code)
    except OSError as error:  # what no command foresaw of the places that it was given
        where = f"{error.filename} " if error.filename else ""
        warn(f"mount-risk: {where}cannot be used ({error.strerror or error})")
        sys.exit(UnreadableFleetError.exit_code)
