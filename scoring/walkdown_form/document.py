"""The form of some units as one document, plain enough for JSON."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

import pandas as pd

from scoring.contract.cautions import CAUTIONS
from scoring.contract.not_seen import NOT_SEEN_REASONS
from scoring.contract.version import CONTRACT_VERSION
from scoring.errors import FixableError
from scoring.limits import unit_limits
from scoring.walkdown_form.check_picture import PICTURE_COLOURS, step_picture
from scoring.walkdown_form.steps import steps_of_units
from scoring.walkdown_form.tightening_help import tightening_help
from scoring.walkdown_form.visit_questions import KINDS, MEASURES, MOUNTING_WORDS, STATES

Document = dict[str, Any]


def form_document(units: pd.DataFrame, unit_ids: Sequence[str]) -> Document:
    """Return the form of some units, in the order in which they are walked to.

    Parameters
    ----------
    units : DataFrame, shape (n_units, ...)
        The table ``units``: of a ``Fleet``, or those in service of an ``Assessment``.
    unit_ids : sequence of str
        The units.

    Returns
    -------
    dict
        What holds for all (cautions, reasons for not seeing, kinds of visit, states of the
        machine, units of measure, pictures) and under ``units`` each unit with its steps.
        Nothing in it is answered.

    Raises
    ------
    FixableError
        If there is no such unit, or one stands twice.
    """
    chosen = units_in_order(units, unit_ids)
    limits = unit_limits(chosen).table
    steps = steps_of_units(chosen, limits)
    mountings = chosen["mounting"].astype(object).tolist()
    pictures = {
        step["picture"]: vars(step_picture(step["check"], mounting))
        for mounting, theirs in zip(mountings, steps, strict=True)
        for step in theirs
    }
    return {
        "contract": CONTRACT_VERSION,
        "cautions": CAUTIONS,
        "not_seen": [{"reason": r, "words": words} for r, words in NOT_SEEN_REASONS.items()],
        "kinds": [{"value": kind, "words": words, "help": when} for kind, words, when in KINDS],
        "states": [
            {"value": state, "words": words, "seen": [one.value for one in seen]}
            for state, words, seen in STATES
        ],
        "measures": [{"value": measure, "words": words} for measure, words in MEASURES],
        "picture_colours": PICTURE_COLOURS,
        "pictures": pictures,
        "units": _units(chosen, limits, steps),
    }


def units_in_order(units: pd.DataFrame, unit_ids: Sequence[str]) -> pd.DataFrame:
    """Return the rows of some units, in the order in which they are walked to.

    Raises
    ------
    FixableError
        If there is no such unit, or one stands twice.
    """
    twice = [unit_id for unit_id, count in Counter(unit_ids).items() if count > 1]
    if twice:
        raise FixableError(f"the unit {twice[0]!r} stands twice; a walk visits each once")
    places = pd.Index(units["unit_id"]).get_indexer(pd.Index(list(unit_ids), dtype=object))
    for unit_id, place in zip(unit_ids, places.tolist(), strict=True):
        if place < 0:
            raise FixableError(f"there is no unit {unit_id!r}; ids are case-sensitive")
    chosen: pd.DataFrame = units.iloc[places].reset_index(drop=True)
    return chosen


def _units(
    units: pd.DataFrame, limits: pd.DataFrame, steps: list[list[dict[str, Any]]]
) -> list[Document]:
    names = units[["unit_id", "site", "line", "driven_equipment", "mounting"]]
    rows = names.astype(object).where(names.notna(), "").to_dict("records")
    helped = tightening_help(units, limits)
    return [
        {
            **{str(name): str(value) for name, value in row.items()},
            "mounting_words": MOUNTING_WORDS[row["mounting"]],
            "tightening": tightening,
            "steps": theirs,
        }
        for row, tightening, theirs in zip(rows, helped, steps, strict=True)
    ]
