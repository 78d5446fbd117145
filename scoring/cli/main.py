"""``mount-risk``: the command and its parts."""

import ast
import gc
import sys
from importlib import import_module
from pathlib import Path
from types import ModuleType

import click

from scoring.errors import FixableError, UnreadableFleetError
from scoring.left_out import without_secrets

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
    "verify",
    "forget",
    "people",
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
        function, file = _where_it_stands(cmd_name)
        command: click.Command = getattr(_imported(f"scoring.cli.{file}"), function)
        return command

    def invoke(self, ctx: click.Context) -> object:
        """Run a command; what is said of a wrong call repeats no password."""
        try:
            return super().invoke(ctx)
        except click.ClickException as error:
            error.message = without_secrets(error.message)  # type: ignore[misc]  # shown later
            raise

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write what each command does, as its file says, without importing any."""
        del ctx
        room = formatter.width - 6 - max(map(len, COMMANDS))
        with formatter.section("Commands"):
            formatter.write_dl(
                [
                    (name, click.Command(name, help=_what_it_says(name)).get_short_help_str(room))
                    for name in COMMANDS
                ]
            )


def _imported(module: str) -> ModuleType:
    """Import a module; what it brings stays, and is not looked through for what may be let go.

    To look through it is a seventh of what is waited for where a small plant is checked.
    """
    if module in sys.modules:
        return sys.modules[module]
    gc.disable()
    try:
        return import_module(module)
    finally:
        gc.freeze()
        gc.enable()


def _where_it_stands(command: str) -> tuple[str, str]:
    """Return the name of a command's function, and that of its file."""
    function = command.replace("-", "_")
    return function, f"{function}_command"


def _what_it_says(command: str) -> str:
    """Return what a command says of itself."""
    function, file = _where_it_stands(command)
    source = Path(__file__).with_name(f"{file}.py").read_text(encoding="utf-8")
    said = (
        ast.get_docstring(one)
        for one in ast.parse(source).body
        if isinstance(one, ast.FunctionDef) and one.name == function
    )
    return next(said) or ""


@click.group(cls=CommandsInFiles, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="mount-risk")
def cli() -> None:
    """Say which shaft-mounted reducers must not run, and which to re-work first.

    FLEET is a folder of CSV or Parquet files (units, walkdowns, events, rework, accepted), one
    XLSX workbook with sheets of those names, or demo:NAME for an invented demo plant. Files of
    your own shape are read by a plan: mount-risk reading-plan. Several plants: NORTH=FLEET
    SOUTH=FLEET.
    """


def _warn(text: str) -> None:
    from scoring.cli.screen import warn  # noqa: PLC0415 - half a second, which no help may cost

    warn(text)


def main() -> None:
    """Run the command; what a person can put right is reported without a traceback."""
    # A Windows console may not know the marks of the verdicts; better a ? than a crash.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        cli()
    except FixableError as error:
        _warn(f"mount-risk: {error}")
        sys.exit(error.exit_code)
    except MemoryError:
        _warn(
            "mount-risk: this takes more memory than there is; give fewer records at a time, or "
            "use a computer with more memory"
        )
        sys.exit(UnreadableFleetError.exit_code)
    except OSError as error:  # what no command foresaw of the places that it was given
        where = f"{error.filename} " if error.filename else ""
        _warn(f"mount-risk: {where}cannot be used ({error.strerror or error})")
        sys.exit(UnreadableFleetError.exit_code)
