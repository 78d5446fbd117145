"""The checks of a walkdown as they are asked on paper, station by station."""

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from scoring.contract import CHECK_BY_NAME
from scoring.contract.not_seen import NOT_SEEN_REASONS
from scoring.contract.quantities import INCH
from scoring.sheets.sheet_blocks import Asked, AtStation
from scoring.walkdown_form.entries import entry_in
from scoring.walkdown_form.visit_questions import KINDS
from scoring.walkdown_form.where_limits_come_from import FROM_RECORD

Step = dict[str, Any]

_KIND_WORDS = {kind: words for kind, words, _ in KINDS}

AS_RECORDED = "as recorded"
"""Of a limit that the record of the unit states."""

WHY_NOT_SEEN = "In the box at the right, where a check was not seen: " + ", ".join(
    f"{number} {words}" for number, words in enumerate(NOT_SEEN_REASONS.values(), 1)
)
"""By which number one writes why."""


def checks_by_station(
    steps: Sequence[Step], measures: str, *, visit_is_known: bool
) -> tuple[AtStation, ...]:
    """Return what is asked at each station.

    Parameters
    ----------
    steps : sequence of dict
        Of one unit, from ``steps_of_units``; they are numbered from 1.
    measures : str
        ``metric`` or ``inch``: in which a number is written.
    visit_is_known : bool
        Whether what is asked on some visits alone was left out already where this is none of
        them.

    Returns
    -------
    tuple of AtStation
        In walking order.
    """
    numbered = enumerate(steps, 1)
    return tuple(
        AtStation(
            letter,
            words,
            tuple(
                _asked(str(number), step, measures, visit_is_known=visit_is_known)
                for number, step in there
            ),
        )
        for (letter, words), there in groupby(
            numbered, key=lambda pair: (pair[1]["station"], pair[1]["station_words"])
        )
    )


def _asked(mark: str, step: Step, measures: str, *, visit_is_known: bool) -> Asked:
    """Return one check: what is good at this unit, how one looks, and room for what was seen."""
    look = [step["how_to_look"]]
    if step["nominal"]:
        look.append(step["nominal"])
    if step["asked_on"] and not visit_is_known:
        look.append(
            "only on these visits: " + ", ".join(_KIND_WORDS[kind] for kind in step["asked_on"])
        )
    details = [detail["label"] for detail in step["details"]]
    options = tuple(option["words"] for option in step["options"])
    unit = "" if options else entry_in(CHECK_BY_NAME[step["check"]], measures).unit
    entry = ", ".join(details) or unit or ("" if options else "how many")
    return Asked(
        mark, step["label"], "; ".join(look), _good_at_this_unit(step, measures), options, entry
    )


def _good_at_this_unit(step: Step, measures: str) -> str:
    """Say what is good, a number with whose word it is."""
    usual = step["usual"]
    if not usual or usual["high"] == 0:
        return str(step["good"])
    words = usual["words_inch"] if measures == INCH else usual["words"]
    whose = usual["origin"].partition("; ")[0]
    return f"{words}, {AS_RECORDED if whose == FROM_RECORD else whose}".removesuffix(", ")
