"""What one record of re-work, or of a failure, makes void: job by job, by hand."""

import pytest
from fleets import Book

from scoring.timeline.resets import find_resets


def resets_of(book):
    """Return what changed something, in the order in which it was done."""
    return find_resets(book.fleet(), book.timeline().records)


def what_is_cured(resets, row=0):
    return {name for name, cured in resets.cures.items() if cured[row]}


@pytest.mark.parametrize(
    ("actions", "cured"),
    [
        ("open_breather", {"breather"}),
        ("open_breather;fit_guard", {"breather", "guard"}),
        ("fit_guard;correct_oil_level", {"guard", "oil_level"}),
    ],
)
def test_a_job_cures_what_any_of_its_actions_cures(actions, cured):
    resets = resets_of(Book().unit(mounting="keyed_bore").reworked("2024-02-01", actions))
    assert what_is_cured(resets) == cured
    assert (resets.off_shaft[0], resets.new_bearing[0], resets.new_seal[0]) == (False,) * 3


@pytest.mark.parametrize(
    ("mode", "cured", "made_anew"),
    [
        ("low_speed_bearing", {"seal_weep", "seal_lip", "oil_condition"}, (True, True, True)),
        ("seal_leak", {"seal_weep", "seal_lip"}, (False, False, True)),
        ("joint_slip", set(), (True, False, False)),
    ],
)
def test_a_failure_is_written_down_with_its_repair(mode, cured, made_anew):
    resets = resets_of(Book().unit(mounting="keyed_bore").failed("2024-02-01", mode))
    assert what_is_cured(resets) == cured
    assert (resets.off_shaft[0], resets.new_bearing[0], resets.new_seal[0]) == made_anew


def test_records_that_change_nothing_are_left_out_and_each_row_stays_its_own():
    book = Book().unit("U1").unit("U2").failed("2024-02-01", "other", "U1")
    book.reworked("2024-04-01", "open_breather", "U2", crew="night crew")
    book.reworked("2024-03-01", "fit_guard", "U1", crew="day crew")
    resets = resets_of(book)
    assert [what_is_cured(resets, row) for row in (0, 1)] == [{"guard"}, {"breather"}]
    assert resets.unit.tolist() == [0, 1]
    assert resets.crew.tolist() == ["day crew", "night crew"]
    assert resets.day.astype(str).tolist() == ["2024-03-01", "2024-04-01"]
