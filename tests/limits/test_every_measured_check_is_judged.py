"""Of every measured check of the contract it is said what is good."""

import numpy as np
import pandas as pd
import pytest

from scoring.contract import CHECKS, About, Check, Kind, Seen, Worse
from scoring.contract.mountings import EVERY_MOUNTING, TAPERED_BUSHING
from scoring.limits.exceedance import exceedance_of

MEASURED = [check for check in CHECKS if check.kind is not Kind.CHOICE]
FAR = 1e6


LIMITS = {
    "torque_passes_required": 3.0,
    "collar_gap_min_mm": 1.0,
    "collar_gap_max_mm": 2.0,
    "isolator_thickness_mm": 30.0,
    "required_engagement_mm": 100.0,
    "usual_engagement_mm": np.nan,
    "screw_torque_nm": 50.0,
    "shaft_low_mm": 79.9,
    "shaft_high_mm": 80.0,
}


def limits_of(mounting: str, rows: int) -> pd.DataFrame:
    """Return limits of units whose records say everything that a limit goes by."""
    kinds = pd.Categorical([mounting] * rows, EVERY_MOUNTING)
    return pd.DataFrame({"mounting": kinds, **LIMITS})


@pytest.mark.parametrize("check", MEASURED, ids=lambda check: check.name)
def test_what_lies_far_out_on_its_worse_side_is_worse_than_good(check: Check) -> None:
    limits = limits_of(TAPERED_BUSHING, 1)
    below, above = (exceedance_of(check, np.array([value]), limits)[0] for value in (-FAR, FAR))
    both = (Worse.OUTSIDE_RANGE, Worse.AWAY_FROM_SPECIFIED)
    assert (below > 0) is np.bool_(check.worse in (Worse.LESS, *both))
    assert (above > 0) is np.bool_(check.worse in (Worse.MORE, *both))


def test_a_check_of_which_nothing_is_said_is_not_judged() -> None:
    check = Check(
        name="play_mm",
        label="play",
        about=About.ARM,
        seen=Seen.STOPPED,
        kind=Kind.NUMBER,
        unit="mm",
        worse=Worse.MORE,
        how_to_look="measure",
        good="none",
    )
    assert np.isnan(exceedance_of(check, np.array([0.0, FAR]), limits_of(TAPERED_BUSHING, 2))).all()
