"""What is known of one unit's clamp screws: how many, their order and passes, what was found."""

from dataclasses import dataclass

import pandas as pd

from scoring.assessment import Assessment
from scoring.consequences.preload_left import USUAL_SCREWS
from scoring.contract.mountings import CLAMPED, TAPERED_BUSHING
from scoring.drawing.numbered_findings import numbered_findings
from scoring.drawing.what_was_seen import WhatWasSeen
from scoring.errors import OutOfRangeError
from scoring.rules.tightening_schedule import LEAST_PASSES, screw_order, torque_shares

MOST_SCREWS = 48
MOST_PASSES = 9
"""As far as an order, and torques of passes, are given. [-]"""

FROM_THE_MANUAL = "from the unit's own manual"


def has_screw_circle(mounting: str) -> bool:
    """Tell whether a mounting is clamped by screws on a circle.

    Examples
    --------
    >>> has_screw_circle("shrink_disc"), has_screw_circle("keyed_bore")
    (True, False)
    """
    return mounting in CLAMPED


@dataclass(frozen=True)
class ScrewsAsKnown:
    """What is known of the clamp screws of one unit.

    Attributes
    ----------
    unit_id, mounting : str
        The unit.
    count, count_assumed : int, bool
        Screws on the circle, and whether the nameplate is blank. [-]
    order : tuple of int
        Screws in the order of tightening; empty where none is given for so many.
    shares : tuple of float
        Share of the final torque in each pass. [-]
    passes_asked, passes_assumed : int, bool
        Passes that the manual asks for, and whether that is assumed. [-]
    final_torque, entered : float or None, bool
        Final torque from the unit's own manual, and whether it was entered now. [N·m]
    found : tuple of (str, str, bool)
        What was looked at, what was seen, whether it is a finding.
    low : int
        Screws found low or missing. [-]
    """

    unit_id: str
    mounting: str
    count: int
    count_assumed: bool
    order: tuple[int, ...]
    shares: tuple[float, ...]
    passes_asked: int
    passes_assumed: bool
    final_torque: float | None
    entered: bool
    found: tuple[tuple[str, str, bool], ...]
    low: int

    @property
    def order_said(self) -> str:
        """Star or circle, or why neither is given."""
        if not self.order:
            return f"order given for 2 to {MOST_SCREWS} screws"
        return "star order" if self.mounting == TAPERED_BUSHING else "circular order"

    @property
    def torque_words(self) -> str:
        """Which final torque the passes rest on, and where it is from."""
        if self.final_torque is None:
            return f"final torque: {FROM_THE_MANUAL}"
        where = "as entered" if self.entered else "on the nameplate"
        return f"final torque {self.final_torque:.4g} N·m, {where}: {FROM_THE_MANUAL}"

    @property
    def rows(self) -> list[tuple[str, str, str]]:
        """Pass, share and torque of each pass, the check pass last."""
        names = [*(str(n) for n in range(1, len(self.shares) + 1)), "check"]
        shares = [*self.shares, 1.0]
        torque = self.final_torque
        return [
            (name, f"{share:.0%}", "" if torque is None else f"{round(share * torque, 3):g}")
            for name, share in zip(names, shares, strict=True)
        ]


def screws_as_known(assessment: Assessment, unit_id: str, entered: float | None) -> ScrewsAsKnown:
    """Read what is known of a unit's clamp screws.

    Parameters
    ----------
    assessment : Assessment
        What is known.
    unit_id : str
        A unit in service.
    entered : float or None
        Final torque from the unit's own manual; by default that on the nameplate. [N·m]

    Returns
    -------
    ScrewsAsKnown

    Raises
    ------
    FixableError
        If no unit of that id is in service.
    OutOfRangeError
        If the final torque entered is not above 0.
    ValueError
        If its mounting has no clamp screws.
    """
    seen = WhatWasSeen.of(assessment, unit_id)
    row = assessment.known.units.iloc[seen.place]
    mounting = str(row["mounting"])
    if not has_screw_circle(mounting):
        raise ValueError(f"{mounting} has no clamp screws; one of {', '.join(CLAMPED)}")
    if entered is not None and not entered > 0:
        raise OutOfRangeError("final_torque", entered, "N·m", "values above 0")
    count = USUAL_SCREWS if pd.isna(row["screw_count"]) else int(row["screw_count"])
    asked = int(assessment.limits.table["torque_passes_required"].iloc[seen.place])
    passes = min(max(asked, LEAST_PASSES), MOST_PASSES)
    stated = None if pd.isna(row["screw_torque_nm"]) else float(row["screw_torque_nm"])
    faults = {finding.check for finding in numbered_findings(assessment, unit_id)}
    return ScrewsAsKnown(
        unit_id=unit_id,
        mounting=mounting,
        count=count,
        count_assumed=bool(pd.isna(row["screw_count"])),
        order=tuple(screw_order(count, mounting)) if 2 <= count <= MOST_SCREWS else (),
        shares=tuple(torque_shares(passes)),
        passes_asked=asked,
        passes_assumed=bool(pd.isna(row["torque_passes_required"])),
        final_torque=stated if entered is None else float(entered),
        entered=entered is not None,
        found=tuple(
            (name.format(asked=asked), seen.words(check), check in faults)
            for check, name in _FOUND.items()
        ),
        low=min(int(seen.number("screws_low") or 0), count),
    )


_FOUND = {
    "torque_passes": "passes made ({asked} asked for)",
    "tightening_order": "order found",
    "final_torque_nm": "lowest torque read",
    "screws_low": "screws low or missing",
}
