"""``mount-risk dashboard``: the pages over a fleet."""

import os
import sys
from datetime import datetime
from ipaddress import ip_address
from pathlib import Path

import click

from scoring.cli.loading import (
    as_of_option,
    fleet_if_there_is_one,
    fleet_options,
    load_checked,
)
from scoring.cli.screen import counted, warn
from scoring.cli.serve import Reached, serve
from scoring.cli.server_settings import login_given, server_settings
from scoring.cli.who_is_answered import host_of, who_is_answered
from scoring.errors import FixableError


def environment_of(  # noqa: PLR0913 - a variable each
    fleet: str,
    as_of: datetime | None,
    *,
    add: tuple[str, ...] = (),
    headings: Path | None = None,
    keep_good: bool = False,
    ask_databases: bool = False,
    host_names: tuple[str, ...] = (),
    log: str | None = None,
) -> dict[str, str]:
    """Return the variables that tell the pages what to show."""
    return {
        "MOUNT_RISK_FLEET": fleet,
        "MOUNT_RISK_AS_OF": as_of.date().isoformat() if as_of else "",
        "MOUNT_RISK_ADD": os.pathsep.join(add),
        "MOUNT_RISK_HEADINGS": str(headings or ""),
        "MOUNT_RISK_KEEP_GOOD": "yes" if keep_good else "",
        "MOUNT_RISK_ASK_DATABASES": "yes" if ask_databases else "",
        "MOUNT_RISK_HOST_NAME": " ".join(host_names),
        "MOUNT_RISK_LOG": log or "",
    }


@click.command()
@fleet_if_there_is_one
@fleet_options
@as_of_option
@server_settings
def dashboard(  # noqa: PLR0913, PLR0917 - a command has the options it has
    fleet: str | None,
    add: tuple[str, ...],
    headings: Path | None,
    as_of: datetime | None,
    port: int,
    address: str,
    host_name: tuple[str, ...],
    public_url: str | None,
    certificate: str | None,
    key: str | None,
    oidc_issuer: str | None,
    oidc_client_id: str | None,
    oidc_client_secret_file: str | None,
    log: str | None,
    *,
    anybody_who_reaches_it_may_write: bool,
    no_open: bool,
    keep_good: bool,
    ask_databases: bool,
) -> None:
    """Show FLEET in a browser on this machine: what to fix first, one unit, the trend.

    Without FLEET, or with one whose records are faulty, the pages begin where records are brought
    in and put right.
    """
    if (certificate is None) != (key is None):
        raise FixableError("a certificate and its key go together: --certificate FILE --key FILE")
    answered = who_is_answered(
        fleet,
        address,
        public_url,
        anybody_may_write=anybody_who_reaches_it_may_write,
        login=login_given(oidc_issuer, oidc_client_id, oidc_client_secret_file),
    )
    reached = Reached(
        None if certificate is None else Path(certificate),
        None if key is None else Path(key),
        public_url or "",
    )
    if fleet is not None:
        checked = load_checked(fleet, add, headings)
        if checked.how_many_faults:
            goes_on = keep_good and not checked.unusable and len(checked.fleet.units)
            warn(
                f"{counted(checked.how_many_faults, 'fault')}; the pages "
                + ("go on with the good rows" if goes_on else "open where they can be put right")
            )
    environment = environment_of(
        fleet or "",
        as_of,
        add=add,
        headings=headings,
        keep_good=keep_good,
        ask_databases=ask_databases,
        host_names=(*host_name, *host_of(public_url)),
        log=log,
    )
    if ask_databases and not ip_address(address).is_loopback:
        warn("whoever is answered asks databases as this machine and its user reach them")
    sys.exit(
        serve(
            {**environment, **answered},
            port=port,
            open_browser=not no_open,
            address=address,
            reached=reached,
        )
    )
