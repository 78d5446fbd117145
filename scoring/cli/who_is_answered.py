"""Whom the pages answer: this machine alone, who signs in, or anybody by an explicit word."""

import os
from collections.abc import Mapping
from ipaddress import ip_address
from urllib.parse import urlsplit

from scoring.access.login_settings import (
    ISSUER,
    PUBLIC_URL,
    is_login_set,
    login_settings,
)
from scoring.cli.screen import warn
from scoring.errors import FixableError
from scoring.store.store_or_files import is_store_address

ANYBODY_MAY_WRITE = "--anybody-who-reaches-it-may-write"

LOGIN, ANYBODY = "MOUNT_RISK_LOGIN", "MOUNT_RISK_ANYBODY"
"""Variables by which the pages are told."""


def who_is_answered(
    fleet: str | None,
    address: str,
    public_url: str | None,
    *,
    anybody_may_write: bool,
    login: Mapping[str, str],
) -> dict[str, str]:
    """Return the variables that tell the pages whom to answer.

    Parameters
    ----------
    fleet : str or None
        What they show.
    address : str
        On which they answer.
    public_url : str or None
        By which people reach them.
    anybody_may_write : bool
        Whether others than this machine are answered without a login.
    login : mapping of str to str
        What was given of the login beside its secret, by the names of variables.

    Returns
    -------
    dict of str to str

    Raises
    ------
    FixableError
        If others would be answered without a login, or it is set up in part.
    """
    in_store = fleet is not None and is_store_address(fleet)
    answered = {LOGIN: "", ANYBODY: ""}
    if is_login_set(login) and in_store:
        settings = login_settings({**os.environ, **login, PUBLIC_URL: public_url or ""})
        return {**answered, **login, LOGIN: "yes", PUBLIC_URL: settings.public_url}
    if is_login_set(login):
        warn("files keep no roles, so that nobody signs in; a login needs a store: mount-risk load")
    if ip_address(address).is_loopback:
        return answered
    if not anybody_may_write:
        raise FixableError(
            f"whoever reaches {address} would read and write without a login. Set one up over a "
            f"store ({ISSUER} and more: see README, On a network), or leave --address out so that "
            f"this machine alone is answered, or say {ANYBODY_MAY_WRITE}"
        )
    warn(f"whoever reaches {address} reads and writes these records; there is no login")
    return {**answered, ANYBODY: "yes"}


def host_of(public_url: str | None) -> tuple[str, ...]:
    """Return the name by which people reach the pages, if one is given.

    Raises
    ------
    FixableError
        If it is no address.

    Examples
    --------
    >>> host_of("https://risk.plant:8443/"), host_of(None)
    (('risk.plant:8443',), ())
    """
    if not public_url:
        return ()
    try:
        host = urlsplit(public_url).netloc
    except ValueError:
        host = ""
    if not host or "@" in host:
        raise FixableError(f"{PUBLIC_URL} is an address such as https://risk.plant")
    return (host.lower(),)
