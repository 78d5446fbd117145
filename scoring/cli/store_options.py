"""Options of every command that works on a store: which one, and in whose name."""

import getpass
from collections.abc import Callable
from typing import TypeVar

import click

from scoring.cli.screen import warn
from scoring.errors import FixableError
from scoring.store.store_or_files import DEFAULT_STORE

Command = TypeVar("Command", bound=Callable[..., object])

STORE = "MOUNT_RISK_STORE"
PERSON = "MOUNT_RISK_PERSON"
"""Environment variables that stand for the options."""


def store_option(command: Command) -> Command:
    """Add the option that names the store."""
    return click.option(
        "--store",
        envvar=STORE,
        default=DEFAULT_STORE,
        show_default=True,
        metavar="URL",
        help=f"The store: sqlite:///FILE or postgresql://USER@HOST/DATABASE; also by {STORE}.",
    )(command)


def by_option(command: Command) -> Command:
    """Add the option that names who makes the changes."""
    return click.option(
        "--by",
        envvar=PERSON,
        default=None,
        metavar="NAME",
        help=f"Who makes the changes; also by {PERSON}.  [your login name]",
    )(command)


def named_person(by: str | None) -> str:
    """Return who makes the changes, and say so where nobody was named.

    Raises
    ------
    FixableError
        If the machine knows no login name either.
    """
    if by is not None and by.strip():
        return by
    try:
        name = getpass.getuser()
    except (OSError, KeyError):
        raise FixableError("every change needs the name of who makes it: give --by NAME") from None
    warn(f"changes are made in the name of {name}; another: --by NAME")
    return name
