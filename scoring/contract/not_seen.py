"""Why a check was not seen: four reasons, each one tap; none of them says anything of the check."""

from scoring.contract.declaration import Seen

NOT_SEEN_REASONS: dict[str, str] = {
    "guard_on": "guard on",
    "running": "machine running",
    "no_access": "no access",
    "not_asked": "not asked for",
}
"""By the word that is kept: what a person reads."""

STATE_OF_REASON: dict[str, Seen] = {"running": Seen.RUNNING}
"""What cannot keep one from seeing what is seen in just this state of the machine."""


def reasons_offered(seen: Seen) -> tuple[str, ...]:
    """Return the reasons that fit a check that is seen in this state of the machine.

    Examples
    --------
    >>> reasons_offered(Seen.RUNNING)
    ('guard_on', 'no_access', 'not_asked')
    """
    return tuple(one for one in NOT_SEEN_REASONS if STATE_OF_REASON.get(one) is not seen)
