"""Chances predicted are held against what later looks of the same fleet found."""

import numpy as np
import pandas as pd
import pytest
from generated_fleets import generated_assessor

from scoring.contract import Seen
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.looking.look_minutes import LookMinutes
from scoring.looking.what_looks_may_find import NOT_SEEN, REPORTED_CURED
from scoring.looking.worth_of_looks import worth_of_looks
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts

DAY = pd.Timestamp("2024-12-31")


def with_next_look(assessor, known, looks):
    """Put beside each look what the next walkdown found, before anything was changed."""
    parts, today = [], np.datetime64(DAY.date(), "D")
    for check, some in looks.groupby("check"):
        later = assessor.timeline.looks[check]
        later = later.where(later.day > today)
        resets = assessor.timeline.resets
        resets = resets.where(resets.void(check) & (resets.day > today))
        seen = pd.DataFrame(
            {"place": later.unit, "position": later.position, "bad": later.exceedance > 0}
        )
        changed = pd.DataFrame({"place": resets.unit, "changed": resets.position})
        place = known.place[some["unit"].to_numpy()]
        both = some.assign(place=place).merge(seen.groupby("place").first(), on="place")
        both = both.merge(changed.groupby("place").first(), on="place", how="left")
        parts.append(both[~(both["changed"] < both["position"])])
    return pd.concat(parts)


@pytest.mark.slow
def test_what_is_told_is_of_the_size_of_what_is_found():
    parts = []
    for seed in (461, 462):
        assessor = generated_assessor(400, seed)
        assessment = assessor.assess(DAY)
        success = learn_rework_success(assessor.timeline, DAY)
        assessed_fleet = AssessedFleet(assessor, assessment, success, SiteEfforts())
        looks = [worth_of_looks(assessed_fleet, LookMinutes(), state) for state in Seen]
        parts.append(with_next_look(assessor, assessment.known, pd.concat(looks)))
    table = pd.concat(parts)
    said = table.groupby("why").agg(
        looks=("bad", "size"), predicted=("chance_of_finding", "mean"), found=("bad", "mean")
    )
    print(said.round(3).to_string())  # noqa: T201 - the table is what one wants to see
    for why in (NOT_SEEN, REPORTED_CURED):
        assert said.loc[why, "looks"] > 60
        assert 0.3 < said.loc[why, "found"] / said.loc[why, "predicted"] < 2, said
