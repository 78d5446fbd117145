"""On which mountings an action makes sense, and what is done with it there."""

from scoring.contract.mountings import CLAMPED
from scoring.contract.rework import ACTION_BY_NAME, with_brought
from scoring.contract.walkdowns import CHECK_BY_NAME


def fits(action: str, mounting: str) -> bool:
    """Tell whether an action makes sense on a mounting: it has checks that the action cures.

    Parameters
    ----------
    action : str
        Name of the action.
    mounting : str
        The mounting.

    Returns
    -------
    bool

    Examples
    --------
    >>> fits("retorque_in_passes", "keyed_bore"), fits("renew_key", "keyed_bore")
    (False, True)
    """
    declared = ACTION_BY_NAME[action]
    has = any(mounting in CHECK_BY_NAME[check].mountings for check in declared.cures)
    return has and mounting in declared.only_on


def done_with(action: str, mounting: str) -> tuple[str, ...]:
    """Return an action and what it brings on a mounting; screws are torqued where there are any.

    Examples
    --------
    >>> done_with("clean_and_refit", "shrink_disc"), done_with("clean_and_refit", "keyed_bore")
    (('clean_and_refit', 'retorque_in_passes'), ('clean_and_refit',))
    """
    names = tuple(one.name for one in with_brought(action))
    return names if mounting in CLAMPED else names[:1]
