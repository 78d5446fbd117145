"""A plant's own records, and a few answers, give the ranking that clean tables give."""

import pandas as pd
import pytest
from asked_ranking import by_id_as_written, ranking
from read_messy_fleet import read_by_plan
from twelve_fleets import MAKERS

RELATIVE = 2e-7
"""Eight digits are written; a unit turned into another one may turn the last."""


@pytest.mark.parametrize("name", list(MAKERS))
def test_messy_records_rank_as_clean_ones_and_the_next_month_asks_nothing(name, tmp_path):
    fleet = MAKERS[name](tmp_path / "records")
    plan = tmp_path / "plan"
    for month, answers in ((fleet.first, fleet.answers), (fleet.second, ())):
        read = read_by_plan(month, answers, plan)
        said = ranking(read, month.as_of, tmp_path / f"read {month.as_of}")
        true = ranking(month.clean, month.as_of, tmp_path / f"clean {month.as_of}")
        pd.testing.assert_frame_equal(
            by_id_as_written(said, fleet.id_as_written),
            by_id_as_written(true, fleet.id_as_written),
            check_exact=False,
            rtol=RELATIVE,
            atol=0,
        )


@pytest.mark.parametrize("name", list(MAKERS))
def test_reading_the_same_month_again_changes_nothing(name, tmp_path):
    """Keys that were made for rows without any are the same again, and in the next month too."""
    fleet = MAKERS[name](tmp_path / "records")
    plan = tmp_path / "plan"
    once = read_by_plan(fleet.first, fleet.answers, plan)
    again = read_by_plan(fleet.first, (), plan)
    later = read_by_plan(fleet.second, (), plan)
    for table, rows in once.items():
        pd.testing.assert_frame_equal(rows, again[table])
    if name != "one_row_a_unit_in_inches":  # a list that is written over
        visits = set(once["walkdowns"]["walkdown_id"])
        assert visits <= set(later["walkdowns"]["walkdown_id"])
