"""Settings of the login, by the names of variables; the secret by a file if one likes."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from scoring.errors import FixableError

ISSUER = "MOUNT_RISK_OIDC_ISSUER"
CLIENT_ID = "MOUNT_RISK_OIDC_CLIENT_ID"
SECRET = "MOUNT_RISK_OIDC_CLIENT_SECRET"  # noqa: S105 - the name of a variable
SECRET_FILE = "MOUNT_RISK_OIDC_CLIENT_SECRET_FILE"  # noqa: S105 - the name of a variable
PUBLIC_URL = "MOUNT_RISK_PUBLIC_URL"

ON_THIS_MACHINE = ("localhost", "127.0.0.1", "::1")


@dataclass(frozen=True)
class LoginSettings:
    """How people sign in.

    Attributes
    ----------
    issuer : str
        The provider, as it names itself: its settings lie below this address.
    client_id, client_secret : str
        By which it knows these pages.
    public_url : str
        By which people reach these pages; without a path.
    """

    issuer: str
    client_id: str
    client_secret: str = field(repr=False)
    public_url: str = ""

    @property
    def is_encrypted(self) -> bool:
        """Whether people reach the pages by https."""
        return urlsplit(self.public_url).scheme == "https"


def is_login_set(environment: Mapping[str, str] = os.environ) -> bool:
    """Tell whether a login is set up at all.

    Examples
    --------
    >>> is_login_set({"MOUNT_RISK_OIDC_ISSUER": "https://login.plant"}), is_login_set({})
    (True, False)
    """
    return bool(environment.get(ISSUER, "").strip())


def login_settings(environment: Mapping[str, str] = os.environ) -> LoginSettings:
    """Return the settings of the login.

    Raises
    ------
    FixableError
        If one is missing or makes no sense; the secret is in no message.

    Examples
    --------
    >>> login_settings({
    ...     "MOUNT_RISK_OIDC_ISSUER": "https://login.plant", "MOUNT_RISK_OIDC_CLIENT_ID": "mr",
    ...     "MOUNT_RISK_OIDC_CLIENT_SECRET": "s", "MOUNT_RISK_PUBLIC_URL": "https://risk.plant/",
    ... }).public_url
    'https://risk.plant'
    """
    given = {name: environment.get(name, "").strip() for name in (ISSUER, CLIENT_ID, PUBLIC_URL)}
    missing = [name for name, value in given.items() if not value]
    secret = _secret(environment)
    if not secret:
        missing.append(f"{SECRET} or {SECRET_FILE}")
    if missing:
        raise FixableError(f"the login is set up in part: {', '.join(missing)} must be given, too")
    for name in (ISSUER, PUBLIC_URL):
        _require_address(name, given[name])
    public = urlsplit(given[PUBLIC_URL])
    if public.path.strip("/") or public.query or public.fragment:
        raise FixableError(f"{PUBLIC_URL} is an address without a path, such as https://risk.plant")
    return LoginSettings(
        given[ISSUER], given[CLIENT_ID], secret, f"{public.scheme}://{public.netloc}"
    )


def _secret(environment: Mapping[str, str]) -> str:
    named = environment.get(SECRET_FILE, "").strip()
    if not named:
        return environment.get(SECRET, "").strip()
    try:
        return Path(named).read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError):
        raise FixableError(f"the file named by {SECRET_FILE} cannot be read") from None


def _require_address(name: str, value: str) -> None:
    """Refuse what is sent in clear beyond this machine."""
    try:
        parts = urlsplit(value)
        host = parts.hostname or ""
    except ValueError:
        host = ""
    if not host or parts.scheme not in {"http", "https"} or parts.username or parts.password:
        raise FixableError(f"{name} is an address such as https://login.plant")
    if parts.scheme == "http" and host not in ON_THIS_MACHINE:
        raise FixableError(
            f"{name} begins with https://, for what is sent in clear can be read and used by "
            "others; http:// is for this machine alone"
        )
