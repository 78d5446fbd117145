"""What a person reads on the answers to a check; what is kept is the contract's word."""

from scoring.contract import Check, Kind
from scoring.contract.declaration import Worse
from scoring.contract.mountings import TAPERED_BUSHING

_SURFACE = {
    "clean_dry": "clean and dry",
    "dust_or_dirt": "dust or dirt",
    "oil_film": "oil film",
    "antiseize_or_grease": "anti-seize or grease",
}

OPTION_WORDS: dict[str, dict[str, str]] = {
    "bore_condition": _SURFACE,
    "clamp_seat_condition": _SURFACE,
    "seated": {"home": "home, no gap", "short": "not home, there is a gap"},
    "support_bushings": {
        "seated": "both seated",
        "proud": "one stands proud",
        "missing": "one is missing",
    },
    "shaft_end": {"reaches": "reaches what is required", "short": "falls short of it"},
    "key_condition": {
        "right": "right key, fits",
        "loose": "loose",
        "short": "too short",
        "missing": "missing",
    },
    "retention": {"tight": "tight", "loose": "loose", "missing": "missing"},
    "tightening_order": {
        "circular": "one after another round the circle",
        "star": "in a star, across the circle",
        "no_order": "in no order",
    },
    "arm_bolts": {"tight": "all tight", "loose": "one or more loose", "missing": "one missing"},
    "isolator_stack": {
        "complete": "complete and sound",
        "washer_missing": "washer missing",
        "damaged": "rubber damaged",
        "isolator_missing": "rubber missing",
    },
    "isolators_free": {"2": "both turn", "1": "one turns", "0": "neither turns"},
    "metal_contact": {"no": "no, metal touches nowhere", "yes": "yes, metal touches metal"},
    "breather": {"open": "open", "plugged": "plugged"},
    "oil_level": {"right": "at its mark", "high": "too high", "low": "too low"},
    "guard": {"fitted": "all fitted", "missing": "one missing"},
    "seal_weep": {"dry": "dry", "damp": "damp", "dripping": "dripping"},
}
"""By check and word, in full."""

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
        if check.worse is Worse.BY_MOUNTING and mounting == TAPERED_BUSHING:
            return tuple(sorted(check.allowed, key=("star", "circular", "no_order").index))
        return check.allowed
    if check.kind is Kind.COUNT and check.maximum is not None and check.maximum < MOST_OPTIONS:
        counts = range(int(check.minimum or 0), int(check.maximum) + 1)
        ordered = reversed(counts) if check.worse is Worse.LESS else counts
        return tuple(str(count) for count in ordered)
    return ()
