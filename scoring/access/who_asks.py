"""Who asks: the person in whose name something is read or written now.

Without a login that is anybody. With one it is who signed in, and where nobody is known there is
no answer at all: what forgets to say who asks is refused, not let in.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass

from scoring.access.acts import MAY, Act, Role
from scoring.store.store_errors import StoreError


class NotSignedInError(StoreError):
    """There is a login, and nobody has signed in."""


class NotAllowedError(StoreError):
    """Who asks may not do this."""


@dataclass(frozen=True)
class Asker:
    """Who asks.

    Attributes
    ----------
    name : str
        As they sign; empty where there is no login.
    roles : frozenset of Role
        What they are.
    sites : frozenset of str or None
        Whose units they see and work on; none for those of all sites.
    subject : str
        By which the provider of the login knows them.
    """

    name: str
    roles: frozenset[Role]
    sites: frozenset[str] | None = None
    subject: str = ""

    def may(self, act: Act) -> bool:
        """Tell whether they may do something, at their own sites.

        Examples
        --------
        >>> ann = Asker("Ann Bell", frozenset({Role.INSPECTOR}), frozenset({"North"}))
        >>> ann.may(Act.WALK), ann.may(Act.RELEASE), ann.sees("North"), ann.sees("South")
        (True, False, True, False)
        """
        return bool(MAY[act] & self.roles)

    def sees(self, site: object) -> bool:
        """Tell whether units of a site are theirs to see."""
        return self.sites is None or site in self.sites

    @property
    def is_signed_in(self) -> bool:
        """Whether it is known who they are."""
        return bool(self.name)


ANYBODY = Asker("", frozenset(Role))
"""Who asks where there is no login: whoever sits at this machine."""

Finder = Callable[[], Asker | None]

_ASKER: ContextVar[Asker | None] = ContextVar("asker", default=None)


class _Login:
    """Whether there is a login, and who else knows who asks."""

    finder: Finder | None = None


def require_login(finder: Finder | None) -> None:
    """Let nobody ask from now on who has not signed in.

    Parameters
    ----------
    finder : callable or None
        Tells who asks where ``asked_by`` was not said; it may know nobody. None: no login again.
    """
    _Login.finder = finder


@contextmanager
def asked_by(asker: Asker) -> Iterator[None]:
    """Say who asks, for a while, in this thread or task.

    Examples
    --------
    >>> with asked_by(Asker("Ann Bell", frozenset())):
    ...     who_asks().name
    'Ann Bell'
    >>> who_asks() is ANYBODY
    True
    """
    before = _ASKER.set(asker)
    try:
        yield
    finally:
        _ASKER.reset(before)


def who_asks() -> Asker:
    """Return who asks.

    Raises
    ------
    NotSignedInError
        If there is a login, and nobody has signed in.
    """
    asker = _ASKER.get()
    if asker is not None:
        return asker
    if _Login.finder is None:
        return ANYBODY
    found = _Login.finder()
    if found is None:
        raise NotSignedInError("nobody is signed in here; open the pages anew and sign in")
    return found


def require(act: Act) -> Asker:
    """Refuse who may not do something.

    Returns
    -------
    Asker
        Who asks.

    Raises
    ------
    NotAllowedError
        If they may not.
    """
    asker = who_asks()
    if not asker.may(act):
        raise _not_allowed(asker, act)
    return asker


def _not_allowed(asker: Asker, act: Act) -> NotAllowedError:
    roles = ", ".join(sorted(role.value for role in asker.roles)) or "no role"
    return NotAllowedError(
        f"{asker.name} ({roles}) may not {act.value}; an administrator grants it"
    )
