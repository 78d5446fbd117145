"""``mount-risk sheet``: sheets to print and sign, one kind a command."""

from importlib import import_module

import click

KINDS = {
    "blank": "scoring.cli.sheet_of_blank_walkdowns",
    "month": "scoring.cli.sheet_of_month",
    "crew": "scoring.cli.sheet_of_crew",
    "calculation": "scoring.cli.sheet_of_calculation",
    "filled": "scoring.cli.sheet_of_filled_walkdown",
    "label": "scoring.cli.sheet_of_labels",
    "work-order": "scoring.cli.sheet_of_work_order",
}
"""Where each kind is; imported when it is asked for."""


class KindsInFiles(click.Group):
    """A group whose commands are imported when they are asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the kinds in the order of their use."""
        del ctx
        return list(KINDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import a kind, if there is one of that name."""
        del ctx
        if cmd_name not in KINDS:
            return None
        command: click.Command = import_module(KINDS[cmd_name]).command
        return command


@click.group(cls=KindsInFiles)
def sheet() -> None:
    """Make a sheet to print and sign, as PDF or HTML."""
