"""What every page says of who uses it: signed in, or nobody knows who."""

from scoring.access.who_asks import Asker

ALONE = "No login: whoever sits at this machine can sign as anybody."
OVER_A_NETWORK = "No login: whoever reaches this address can sign as anybody."


def who_is_here(asker: Asker, *, over_a_network: bool) -> str:
    """Say who uses a page.

    Examples
    --------
    >>> from scoring.access.who_asks import ANYBODY
    >>> who_is_here(ANYBODY, over_a_network=False)
    'No login: whoever sits at this machine can sign as anybody.'
    """
    if not asker.is_signed_in:
        return OVER_A_NETWORK if over_a_network else ALONE
    return f"Signed in as {asker.name}."


def what_they_are(asker: Asker) -> str:
    """Say which roles somebody has, and where.

    Examples
    --------
    >>> from scoring.access.acts import Role
    >>> what_they_are(Asker("Ann Bell", frozenset({Role.MANAGER}), frozenset({"North"})))
    'manager; North'
    """
    roles = ", ".join(sorted(role.value for role in asker.roles))
    sites = "all sites" if asker.sites is None else ", ".join(sorted(asker.sites))
    return f"{roles}; {sites}"
