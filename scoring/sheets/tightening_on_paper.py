"""How the clamp screws are tightened, as a part of a sheet: order, passes, room for torques."""

from typing import Any

from scoring.consequences.preload_left import USUAL_SCREWS
from scoring.contract import CHECK_BY_NAME
from scoring.drawing.circle_of_screws import draw_screws_by_number
from scoring.sheets.drawing_on_paper import Drawing
from scoring.sheets.sheet_blocks import (
    Align,
    Beside,
    Blank,
    Block,
    Cell,
    Column,
    Facts,
    Heading,
    Prose,
    Table,
    Together,
    Weight,
)
from scoring.walkdown_form.entries import Entry, entry_in

AS_RECORDED = "Final torque as recorded of this unit; compare it with the unit's own manual."
FROM_THE_MANUAL = "Write the final torque here from the unit's own manual; none is supplied."
DIGITS = 4
"""So many figures of a torque are shown. Ours."""


def tightening_on_paper(helped: dict[str, Any], mounting: str, measures: str) -> Together:
    """Return the screws by number, their order, and the passes with room to write.

    Parameters
    ----------
    helped : dict
        Of one unit, from ``tightening_help``.
    mounting : str
        A clamped mounting.
    measures : str
        ``metric`` or ``inch``.

    Returns
    -------
    Together
    """
    entry = entry_in(CHECK_BY_NAME["final_torque_nm"], measures)
    order = helped["order"]
    count = len(order) if order else USUAL_SCREWS
    drawing = Drawing(draw_screws_by_number(count, mounting))
    told: list[Block] = [
        Prose(f"{helped['order_words']}: {helped['order_help']}", Weight.STRONG),
        Prose("In each circle the number of a screw, outside it its turn.", Weight.QUIET),
    ]
    if not order:
        told += [
            Facts((("number of screws", Blank.LINE),), columns=1),
            Prose(f"Drawn with {USUAL_SCREWS} screws, as none are recorded.", Weight.QUIET),
        ]
    torque = helped["final_torque_nm"]
    told += [
        Prose(FROM_THE_MANUAL if torque is None else AS_RECORDED, Weight.QUIET),
        _passes(helped["shares"], torque, entry),
        Prose(helped["note"], Weight.QUIET),
    ]
    rest = max(184.0 - drawing.width_mm, 80.0)
    return Together(
        (
            Heading("Tightening the clamp screws"),
            Beside(((drawing,), tuple(told)), (drawing.width_mm, rest)),
        )
    )


def _passes(shares: list[float], torque: float | None, entry: Entry) -> Table:
    """Return the passes, the check pass last, each to be ticked."""
    names = [*(str(n) for n in range(1, len(shares) + 1)), "check, until no screw turns"]

    def cell(share: float) -> Cell:
        return Blank.LINE if torque is None else f"{entry.given(share * torque):.{DIGITS}g}"

    return Table(
        (
            Column("pass"),
            Column("share", Align.RIGHT),
            Column(f"torque, {entry.unit}", Align.RIGHT, share=1),
            Column("done"),
        ),
        tuple(
            (name, f"{share:.0%}", cell(share), Blank.BOX)
            for name, share in zip(names, [*shares, 1.0], strict=True)
        ),
    )
