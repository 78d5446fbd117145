"""The settings of the server of the pages, each declared once: option, variable, line of a file.

An option counts more than an environment variable, and that more than the file.
"""

import os
import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path
from typing import Any, TypeVar

import click
from click.core import ParameterSource

from scoring.access.login_settings import CLIENT_ID, ISSUER, SECRET, SECRET_FILE
from scoring.cli.serve import ADDRESS
from scoring.errors import FixableError

Command = TypeVar("Command", bound=Callable[..., object])

FILE = "MOUNT_RISK_SETTINGS"
"""Environment variable that names the file of settings."""

LARGEST_FILE = 100_000
"""Of settings; planning value of ours. [bytes]"""

_HOST_NAME = re.compile(
    r"([a-z0-9_][a-z0-9._-]{0,252}|\[[0-9a-f:.]{2,45}\])(:[0-9]{1,5})?", re.IGNORECASE
)


class IpAddress(click.ParamType[str]):
    """An address of this machine, in numbers."""

    name = "address"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Refuse what is no address in numbers."""
        try:
            return str(ip_address(value))
        except ValueError:
            self.fail(f"{value!r} is no address such as 127.0.0.1 or 0.0.0.0", param, ctx)


class HostName(click.ParamType[str]):
    """A name by which browsers reach the pages."""

    name = "name"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Refuse what is no name of a host."""
        if _HOST_NAME.fullmatch(value) is None:
            self.fail(
                f"{value!r} is no name such as plant.example or plant.example:8443", param, ctx
            )
        return value.lower()


@dataclass(frozen=True)
class Setting:
    """One setting.

    Attributes
    ----------
    name : str
        Of the option, without its dashes, and in a file.
    kind : type
        What a file holds: text, a whole number, true or false, or a list of texts.
    help : str
        What it does.
    option : dict
        What else the option is told.
    """

    name: str
    kind: type
    help: str
    option: dict[str, Any]

    @property
    def variable(self) -> str:
        """The environment variable that stands for the option."""
        return f"MOUNT_RISK_{self.name.replace('-', '_').upper()}"

    @property
    def parameter(self) -> str:
        """What the command calls it."""
        return self.name.replace("-", "_")


SETTINGS = (
    Setting(
        "port",
        int,
        "Port on this machine; 0: a free one.",
        {"type": click.IntRange(0, 65535), "default": 0, "show_default": True},
    ),
    Setting(
        "address",
        str,
        "Address of this machine on which the pages answer. Others than this machine are answered "
        "with a login alone; README tells how it is set up.",
        {"type": IpAddress(), "default": ADDRESS, "show_default": True},
    ),
    Setting(
        "host-name",
        list,
        "A name by which browsers reach the pages, besides localhost and the address itself; "
        "again for another one. Requests to any other name are refused.",
        {"type": HostName(), "multiple": True, "metavar": "NAME[:PORT]"},
    ),
    Setting(
        "public-url",
        str,
        "By which people reach the pages, as https://risk.plant: that of a server in front, where "
        "there is one.",
        {"metavar": "URL"},
    ),
    Setting(
        "certificate",
        str,
        "Certificate for https, as PEM with those that vouch for it; with --key.",
        {"type": click.Path(exists=True, dir_okay=False)},
    ),
    Setting(
        "key",
        str,
        "The private key of the certificate, as PEM.",
        {"type": click.Path(exists=True, dir_okay=False)},
    ),
    Setting(
        "oidc-issuer",
        str,
        "The provider of OpenID Connect at which people sign in, as it names itself.",
        {"metavar": "URL"},
    ),
    Setting(
        "oidc-client-id",
        str,
        "By which the provider knows these pages.",
        {"metavar": "ID"},
    ),
    Setting(
        "oidc-client-secret-file",
        str,
        "A file that holds the secret shared with the provider and nothing else; or the secret in "
        f"the variable {SECRET}.",
        {"metavar": "FILE"},
    ),
    Setting(
        "anybody-who-reaches-it-may-write",
        bool,
        "Answer others than this machine without a login.",
        {"is_flag": True},
    ),
    Setting(
        "log",
        str,
        "Write a line of JSON for each request into this file, - for the terminal: time, route, "
        "code, duration; no names, no ids.",
        {"metavar": "FILE"},
    ),
    Setting("no-open", bool, "Do not open a browser.", {"is_flag": True}),
    Setting("keep-good", bool, "Go on without the rows that are faulty.", {"is_flag": True}),
    Setting(
        "ask-databases",
        bool,
        "Let who opens the pages read records from a database by its address, read only, as this "
        "machine and its user reach it.",
        {"is_flag": True},
    ),
)
"""In the order of the help."""

FLEET = Setting("fleet", str, "What is shown, where the command names nothing.", {})
"""A setting that is no option: it stands first in the command."""

IN_NO_FILE = "oidc-client-secret"
"""A secret, which a file of settings may name by its file alone, and no message repeats."""

_IN_WORDS = {
    str: "a text",
    int: "a whole number",
    bool: "true or false",
    list: 'a list of texts, as ["plant.example"]',
}


def server_settings(command: Command) -> Command:
    """Add the options of a command that serves pages, and the file that may hold them."""
    for setting in reversed(SETTINGS):
        command = click.option(
            f"--{setting.name}",
            envvar=setting.variable,
            show_envvar=True,
            help=setting.help,
            **setting.option,
        )(command)
    return click.option(
        "--settings",
        type=click.Path(path_type=Path, exists=True, dir_okay=False),
        envvar=FILE,
        show_envvar=True,
        is_eager=True,
        expose_value=False,
        callback=_take_file,
        metavar="FILE",
        help="Settings in a file (TOML), by the names of these options and fleet. An option counts "
        "more than a variable, and that more than the file.",
    )(command)


def login_given(
    issuer: str | None, client_id: str | None, secret_file: str | None
) -> dict[str, str]:
    """Return what the command that runs was told of the login, by the names of variables.

    A secret in a variable counts more than one that a file of settings names.
    """
    source = click.get_current_context().get_parameter_source("oidc_client_secret_file")
    if os.environ.get(SECRET) and source is ParameterSource.DEFAULT_MAP:
        secret_file = None
    return {ISSUER: issuer or "", CLIENT_ID: client_id or "", SECRET_FILE: secret_file or ""}


def _take_file(context: click.Context, parameter: click.Parameter, file: Path | None) -> None:
    del parameter
    taken = _read(file, context) if file is not None else {}
    fleet = os.environ.get(FLEET.variable)
    if fleet:
        taken[FLEET.parameter] = (fleet,)
    context.default_map = {**(context.default_map or {}), **taken}


def _read(file: Path, context: click.Context) -> dict[str, object]:
    """Return what a file sets, checked.

    Raises
    ------
    FixableError
        If a line of it cannot be read, is no setting, or holds what that setting cannot be.
    """
    written = file.read_bytes()
    if len(written) > LARGEST_FILE:
        raise FixableError(f"{file} has more than {LARGEST_FILE} bytes, as no settings have")
    try:
        text = written.decode("utf-8")
        found = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise FixableError(f"{file} cannot be read as settings (TOML, UTF-8): {error}") from None
    known = {setting.name: setting for setting in (FLEET, *SETTINGS)}
    taken: dict[str, object] = {}
    for name, value in found.items():
        where = f"{file}, line {_line_of(text, name)}: {name}"
        if name == IN_NO_FILE:
            raise FixableError(
                f"{where} does not stand in a file that others may read: name a file that holds "
                f"the secret alone, as oidc-client-secret-file, or set {SECRET}"
            )
        if name not in known:
            raise FixableError(f"{where} is no setting; there are {', '.join(known)}")
        setting = known[name]
        if not _fits(setting, value):
            given = "" if IN_NO_FILE in name else f", not {value!r}"
            raise FixableError(f"{where} is {_IN_WORDS[setting.kind]}{given}")
        if setting is FLEET:
            taken[setting.parameter] = (value,)
            continue
        taken[setting.parameter] = _checked(context, setting, value, where)
    return taken


def _fits(setting: Setting, value: object) -> bool:
    if isinstance(value, list):
        return setting.kind is list and all(isinstance(one, str) for one in value)
    return type(value) is setting.kind


def _checked(context: click.Context, setting: Setting, value: object, where: str) -> object:
    option = next(one for one in context.command.params if one.name == setting.parameter)
    try:
        option.type_cast_value(context, value)
    except click.BadParameter as error:
        raise FixableError(f"{where}: {error.message}") from None
    return value


def _line_of(text: str, name: str) -> int:
    """Return the line in which a setting stands."""
    begins = re.compile(
        rf"""\s*["']?{re.escape(name)}["']?\s*[=.\]]|\s*\[+\s*["']?{re.escape(name)}\b"""
    )
    return next((at for at, line in enumerate(text.splitlines(), 1) if begins.match(line)), 1)
