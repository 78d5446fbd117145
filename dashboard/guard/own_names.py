"""The names of this server: a request to another one is none of ours.

A page of anybody's can have its own name resolve to this machine. Its requests then arrive here
from the reader's browser, and all that tells them from ours is the name they were sent to.
"""

import os
import re
from dataclasses import dataclass
from ipaddress import ip_address
from urllib.parse import urlsplit

HOST_NAMES = "MOUNT_RISK_HOST_NAME"
"""Environment variable by which the command line tells by what names the pages are reached."""

LOOPBACK = ("localhost", "127.0.0.1", "[::1]")

_HOST = re.compile(r"(\[[0-9a-f:.]{2,45}\]|[a-z0-9_][a-z0-9._-]{0,252})(?::([0-9]{1,5}))?")
_USUAL_PORT = {"http": "80", "https": "443"}


@dataclass(frozen=True)
class OwnNames:
    """The names that this server knows as its own.

    Attributes
    ----------
    given : tuple of str
        Besides those of this machine itself: names, or names with a port, as browsers show them.
    """

    given: tuple[str, ...] = ()

    def knows(self, host: str, arrived_at: str) -> bool:
        """Tell whether a request was meant for this server.

        Parameters
        ----------
        host : str
            As its header ``Host`` says.
        arrived_at : str
            The address of this machine at which it arrived; nobody but its owner can have a name
            in numbers resolve to it.

        Returns
        -------
        bool

        Examples
        --------
        >>> names = OwnNames(("plant.example",))
        >>> names.knows("localhost:8501", "127.0.0.1"), names.knows("plant.example", "10.0.0.5")
        (True, True)
        >>> names.knows("10.0.0.5:80", "10.0.0.5"), names.knows("evil.example", "127.0.0.1")
        (True, False)
        """
        parted = _parted(host)
        if parted is None:
            return False
        name = parted[0]
        return (
            name in LOOPBACK
            or name == _in_numbers(arrived_at)
            or any(name == own[0] for own in map(_parted, self.given) if own)
        )

    def sent(self, origin: str, host: str) -> bool:
        """Tell whether a page of this server had a browser send a request.

        Parameters
        ----------
        origin : str
            As its header ``Origin`` says.
        host : str
            As its header ``Host`` says; one that is known.

        Returns
        -------
        bool
            Not for another port of the same machine: that is another server.

        Examples
        --------
        >>> names = OwnNames(("plant.example",))
        >>> names.sent("http://localhost:8501", "localhost:8501")
        True
        >>> names.sent("https://plant.example", "127.0.0.1:8501")  # a proxy says where it asks
        True
        >>> names.sent("http://localhost:9000", "localhost:8501"), names.sent("null", "localhost")
        (False, False)
        """
        parts = urlsplit(origin)
        usual = _USUAL_PORT.get(parts.scheme)
        came_from = _parted(parts.netloc)
        if usual is None or came_from is None or parts.path not in ("", "/"):
            return False
        own = (_parted(name) for name in (host, *self.given))
        whole = (came_from[0], came_from[1] or usual)
        return any((name, port or usual) == whole for name, port in filter(None, own))


def own_names() -> OwnNames:
    """Return the names that the command line told."""
    return OwnNames(tuple(os.environ.get(HOST_NAMES, "").lower().split()))


def _parted(host: str) -> tuple[str, str] | None:
    found = _HOST.fullmatch(host.lower())
    if found is None or (found[2] and int(found[2]) > 65535):
        return None
    return found[1], found[2] or ""


def _in_numbers(address: str) -> str:
    """Return an address as browsers write it; nothing where it is none."""
    try:
        found = ip_address(address.strip().strip("[]").partition("%")[0])
    except ValueError:
        return ""
    if found.version == 4:
        return str(found)
    return str(found.ipv4_mapped) if found.ipv4_mapped else f"[{found}]"
