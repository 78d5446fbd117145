"""Who has signed in: kept here in the server, known to a browser by a signed cookie alone.

When the server ends, all are signed out; so no key has to be kept on a disk.
"""

import secrets
import threading
import time
from collections.abc import Mapping
from dataclasses import dataclass, field

from itsdangerous import BadSignature, TimestampSigner

from scoring.access.grants import SignedInAs

LASTS_S = 12 * 3600
"""A shift and its hand-over; then one signs in anew. Planning value of ours. [s]"""

MOST = 10_000
"""Sessions kept at once; the oldest go first. Planning value of ours."""


@dataclass(frozen=True)
class Session:
    """Somebody signed in at one browser.

    Attributes
    ----------
    who : SignedInAs
        Who it is.
    ends_at : float
        By the clock ``time.time``. [s]
    id_token : str
        What the provider said of them, for signing out there.
    """

    who: SignedInAs
    ends_at: float
    id_token: str = field(default="", repr=False)


class Sessions:
    """Who has signed in.

    Parameters
    ----------
    is_encrypted : bool
        Whether browsers reach the pages by https alone.

    Examples
    --------
    >>> sessions = Sessions(is_encrypted=False)
    >>> kept = sessions.begin(SignedInAs("https://login.plant", "1001"))
    >>> sessions.find({"mount_risk_session": kept}).who.subject
    '1001'
    >>> sessions.find({"mount_risk_session": kept[:-1]}) is None
    True
    """

    def __init__(self, *, is_encrypted: bool) -> None:
        self.is_encrypted = is_encrypted
        self.cookie = "__Host-mount_risk_session" if is_encrypted else "mount_risk_session"
        self.key_of_flows = secrets.token_hex(32)
        self._signer = TimestampSigner(secrets.token_bytes(32), salt="session")
        self._there: dict[str, Session] = {}
        self._lock = threading.Lock()

    def begin(self, who: SignedInAs, id_token: str = "") -> str:
        """Begin a session, and return what its cookie holds."""
        name = secrets.token_urlsafe(32)
        now = time.time()
        with self._lock:
            there = {n: one for n, one in self._there.items() if one.ends_at > now}
            there[name] = Session(who, now + LASTS_S, id_token)
            self._there = dict(list(there.items())[-MOST:])
        return self._signer.sign(name).decode()

    def find(self, cookies: Mapping[str, str]) -> Session | None:
        """Return the session of a browser; none where it has none, or it has ended."""
        found = self._there.get(self._name(cookies))
        return found if found is not None and found.ends_at > time.time() else None

    def end(self, cookies: Mapping[str, str]) -> Session | None:
        """End the session of a browser, and return it."""
        with self._lock:
            return self._there.pop(self._name(cookies), None)

    def _name(self, cookies: Mapping[str, str]) -> str:
        try:
            return self._signer.unsign(cookies.get(self.cookie, ""), max_age=LASTS_S).decode()
        except BadSignature:
            return ""
