"""Which answers to a check are offered as words to tap; what is kept is the contract's word."""

from scoring.contract import Check, Kind
from scoring.contract.declaration import Worse

MOST_OPTIONS = 3
"""A count of no more values is offered as so many answers."""


def values_offered(check: Check, mounting: str) -> tuple[str, ...]:
    """Return the answers that are offered at a mounting, the worst last.

    Examples
    --------
    >>> from scoring.contract import CHECK_BY_NAME
    >>> values_offered(CHECK_BY_NAME["tightening_order"], "tapered_bushing")
    ('star', 'circular', 'no_order')
    >>> values_offered(CHECK_BY_NAME["isolators_free"], "keyed_bore")
    ('2', '1', '0')
    >>> values_offered(CHECK_BY_NAME["engagement_mm"], "keyed_bore")
    ()
    """
    if check.kind is Kind.CHOICE:
        return check.words_on(mounting)
    if check.kind is Kind.COUNT and check.maximum is not None and check.maximum < MOST_OPTIONS:
        counts = range(int(check.minimum or 0), int(check.maximum) + 1)
        ordered = reversed(counts) if check.worse is Worse.LESS else counts
        return tuple(str(count) for count in ordered)
    return ()
