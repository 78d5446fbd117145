"""A plan of six sets of work typed in by hand: jobs, words, windows, what is left and why."""

import numpy as np
import pandas as pd
import pytest
from drawn_work import AS_OF

from scoring.planning.choose import Choice
from scoring.planning.curve import curve_of_hours
from scoring.planning.plan import make_plan
from scoring.planning.shutdowns import Shutdowns, one_shutdown, table_of_windows

COLUMNS = ["unit", "site", "line", "hours", "people", "lead_days", "loss_avoided", "clears_hold"]
ROWS = [  # U0 on hold, two sets; U1 to U4 to be corrected
    (0, "quay", "B", 6.0, 2, 0, 300.0, True),
    (0, "quay", "B", 2.0, 1, 0, 100.0, False),
    (1, "pit", "A", 4.0, 1, 0, 800.0, False),
    (2, "pit", "A", 5.0, 1, 0, 500.0, False),
    (3, "pit", "A", 8.0, 4, 0, 400.0, False),
    (4, "pit", "C", 3.0, 1, 30, 240.0, False),
]


def sets_of_work(rows=ROWS):
    table = pd.DataFrame(rows, columns=COLUMNS)
    hold = table["clears_hold"].to_numpy(dtype=bool)
    return table.assign(
        unit_id=[f"U{n}" for n in table["unit"]],
        verdict=np.where(table["unit"] == 0, "hold", "correct"),
        verdict_after=np.where(hold, "correct", np.where(table["unit"] == 0, "hold", "watch")),
        actions="fit_guard",
        crane=False,
        line_stops=hold,
        cost=60.0 * table["hours"],
        expected_loss=1000.0,
        expected_loss_after=1000.0 - table["loss_avoided"],
        standing_loss=0.0,
        p_low_speed_bearing=0.05,
        p_low_speed_bearing_after=0.025,
        p_seal_leak=0.2,
        p_seal_leak_after=0.1,
        p_joint_slip=0.01,
        p_joint_slip_after=0.005,
        currency=["EUR", "EUR", None, "EUR", "EUR", "EUR"][: len(table)],
    )


def ranking():
    return pd.DataFrame(
        {
            "unit_id": [f"U{n}" for n in range(6)],
            "site": ["quay", "pit", "pit", "pit", "pit", "quay"],
            "verdict": ["hold", "correct", "correct", "correct", "correct", "hold"],
            "main_reasons": ["guard missing", "", "oil high", "oil high", "oil high", "oil low"],
            "first_action": [
                "fit guard: fit it",
                "fit guard; true shaft: both",
                *["look at: it"] * 4,
            ],
        }
    )


def plan(hours=10.0, **more):
    starts = {"starts_on": AS_OF + pd.Timedelta(days=10), **more}
    window = {"window": "w", "crew_hours": hours, "people": 3, **starts}
    return make_plan(sets_of_work(), ranking(), Shutdowns(table_of_windows([window]), AS_OF))


def why(made, unit_id, hours=None):
    rows = made.weighed[made.weighed["unit_id"] == unit_id]
    return (rows if hours is None else rows[rows["hours"] == hours])["why"].iloc[0]


def test_the_hold_first_and_then_what_avoids_most_in_the_hours_left():
    jobs = plan().jobs
    assert jobs["unit_id"].tolist() == ["U1", "U0"]  # by site and line within the window
    assert jobs["order"].tolist() == [1, 2]
    assert jobs["hours"].tolist() == [4, 6]
    assert jobs["window"].tolist() == ["w", "w"]
    assert jobs["line_stops"].tolist() == ["no", "yes"]
    assert jobs["crane"].tolist() == ["no", "no"]
    assert (jobs["starts_on"] == AS_OF + pd.Timedelta(days=10)).all()


def test_what_is_done_says_why():
    made = plan()
    held, other = made.jobs.set_index("unit_id").loc[["U0", "U1"], "why"]
    assert held == (
        f"lifts the hold; avoids 300 of 1,000 EUR, 50 an hour{chances_in(held)}"
        "; found: guard missing"
    )
    assert other == (
        f"avoids 800 of 1,000, 200 an hour{chances_in(other)}"
        "; leaves what the ranking names first: true shaft"
    )
    for words in (held, other):
        assert chances_in(words).count("->") == 3
        assert "5.0% -> 2.5%" in words
        assert "20.0% -> 10.0%" in words
        assert "1.0% -> 0.5%" in words


def chances_in(words):
    """Return the part that tells how chances change, whatever the failures are called."""
    return (
        words[words.index(" an hour") + len(" an hour") :].split("; found")[0].split("; leaves")[0]
    )


def test_what_standing_still_costs_is_told_however_little_it_is():
    window = {"window": "w", "crew_hours": 10.0, "people": 3, "starts_on": AS_OF}
    sets = sets_of_work().assign(standing_loss=0.6)
    made = make_plan(sets, ranking(), Shutdowns(table_of_windows([window]), AS_OF))
    held = made.jobs.set_index("unit_id").loc["U0", "why"]
    assert held.startswith("lifts the hold; avoids 300 of 1 EUR that standing still costs, 50")


def test_what_is_left_says_what_stood_in_its_way():
    made = plan()
    assert why(made, "U0", 2.0).startswith("another set of work is done at the unit; avoids 100")
    # the least that is done avoids 200 an hour, the lifted hold aside
    assert why(made, "U2") == (
        "the hours do more elsewhere: 200 an hour or more; avoids 500 of 1,000 EUR, 100 an hour"
    )
    assert why(made, "U3").startswith("it needs more people than any window has; avoids 400")
    assert why(made, "U4").startswith("its parts come too late; avoids 240")


def test_what_no_longer_fits_says_so_though_its_hour_is_worth_as_much():
    rows = [
        (0, "pit", "A", 6.0, 1, 0, 600.0, False),
        (1, "pit", "A", 6.0, 1, 0, 570.0, False),  # 95 an hour, between the others
        (2, "pit", "A", 1.0, 1, 0, 90.0, False),
    ]
    sets = sets_of_work(rows)
    made = make_plan(sets, ranking(), one_shutdown(AS_OF, 7))
    assert made.jobs["hours"].tolist() == [6, 1]
    (left,) = made.weighed.loc[made.weighed["window"].isna(), "why"]
    assert left.startswith("it no longer fits into the hours left; avoids 570")


def test_where_only_holds_are_lifted_no_least_hour_is_told():
    made = plan(hours=6.0)
    assert made.jobs["unit_id"].tolist() == ["U0"]
    assert why(made, "U1").startswith("the hours do more elsewhere; avoids 800")


def test_windows_tell_what_is_used():
    used = plan().windows
    given = ["window", "sites", "starts_on", "crew_hours", "people", "crane"]
    assert used.columns.tolist() == [*given, "used", "jobs", "loss_avoided"]
    assert used["used"].tolist() == [10]
    assert used["jobs"].tolist() == [2]
    assert used["loss_avoided"].tolist() == [1100]
    assert used["crew_hours"].tolist() == [10]
    rows = [{"window": n, "crew_hours": 10.0, "people": 3} for n in ("a", "b")]
    both = make_plan(
        sets_of_work(ROWS[:2]), ranking(), Shutdowns(table_of_windows(rows), AS_OF)
    ).windows
    assert sorted(both["used"].tolist()) == [0, 6]
    assert sorted(both["jobs"].tolist()) == [0, 1]


def test_units_that_missed_the_cut_are_told_by_what_an_hour_avoids():
    missed = plan().missed
    assert missed["unit_id"].tolist() == ["U2", "U4", "U3"]  # 100, 80 and 50 an hour
    assert plan(hours=0.0).missed["unit_id"].tolist() == ["U1", "U2", "U4", "U3", "U0"]


def test_only_ten_that_missed_the_cut_are_told():
    rows = [(n, "pit", "A", 9.0, 1, 0, 100.0 + n, False) for n in range(14)]
    table = pd.concat([sets_of_work([row]) for row in rows], ignore_index=True)
    table["unit_id"] = [f"U{n}" for n in range(14)]
    missed = make_plan(table, ranking(), one_shutdown(AS_OF, 5)).missed
    assert missed["unit_id"].tolist() == [f"U{n}" for n in range(13, 3, -1)]


def test_holds_left_say_why():
    assert plan().holds_left.to_dict("records") == [
        {"unit_id": "U5", "site": "quay", "why": "no re-work on record lifts it: look at it"}
    ]
    short = plan(hours=5.0).holds_left.set_index("unit_id")["why"]
    assert short["U0"] == "it takes more hours than any window has"
    alone = plan(people=1).holds_left.set_index("unit_id")["why"]
    assert alone["U0"] == "it needs more people than any window has"


def test_a_hold_that_fits_beside_another_alone_says_what_decided():
    rows = [(0, "pit", "A", 6.0, 1, 0, 300.0, True), (1, "pit", "A", 6.0, 1, 0, 400.0, True)]
    sets, held = sets_of_work(rows), ranking().assign(verdict=["hold"] * 2 + ["correct"] * 4)
    for holds_first, words in (
        (True, "not enough hours left for all holds"),
        (False, "loss alone decides, and in these hours other work avoids more"),
    ):
        made = make_plan(sets, held, one_shutdown(AS_OF, 8), holds_first=holds_first)
        assert made.holds_left.to_dict("records") == [
            {"unit_id": "U0", "site": "quay", "why": words}
        ]


NONE_MORE = "no plan lifts more holds; of those that lift as many none avoids "
NOT_ALL = "no plan lifts more than 3 holds; of those that lift as many none avoids "


@pytest.mark.parametrize(
    ("avoided", "holds", "holds_first", "words"),
    [
        (100.0, (2, 2), True, NONE_MORE + "more"),
        (90.0, (2, 2), True, NONE_MORE + "10.000% more"),
        (100.0, (2, 3), True, NOT_ALL + "more"),
        (99.9, (2, 3), True, NOT_ALL + "0.100% more"),
        (100.0, (2, 3), False, "by loss alone; no plan avoids more"),
        (75.0, (2, 2), False, "by loss alone; no plan avoids 25.000% more"),
        # a share is told as soon as its three digits are not all nothing
        (99.9994, (2, 2), True, NONE_MORE + "0.001% more"),
        (99.9996, (2, 2), True, NONE_MORE + "more"),
        (99.9994, (2, 2), False, "by loss alone; no plan avoids 0.001% more"),
        (99.9996, (2, 2), False, "by loss alone; no plan avoids more"),
    ],
)
def test_how_good_a_plan_is_in_words(avoided, holds, holds_first, words):
    choice = Choice(np.array([0]), avoided, 100.0, *holds, holds_first)
    assert choice.words == words
    assert choice.gap == pytest.approx((100 - avoided) / 100)


def test_a_plan_better_than_its_bound_by_a_rounding_has_no_gap():
    assert Choice(np.array([0]), 100.0 + 1e-9, 100.0, 0, 0).gap == 0
    assert Choice(np.array([-1]), 0.0, 0.0, 0, 0).gap == 0
    # unless it is said otherwise holds came first
    assert Choice(np.array([0]), 90.0, 100.0, 2, 3).words.startswith("no plan lifts more than 3")


def test_the_curve_by_hand():
    """U1 200 an hour, U2 100, U4 80; U0 50 for 2 h and 50 more for 4 h; U3 50."""
    curve = curve_of_hours(sets_of_work())
    steps = pd.DataFrame({"hours": curve["hours"].diff(), "more": curve["loss_avoided"].diff()})
    assert steps["hours"].tolist()[1:4] == [4, 5, 3]
    assert steps["more"].tolist()[1:4] == [800, 500, 240]
    assert curve["an_hour_more"].tolist()[:4] == [200, 100, 80, 50]
    assert curve["hours"].iloc[-1] == 4 + 5 + 3 + 6 + 8
    assert curve["loss_avoided"].iloc[-1] == 800 + 500 + 240 + 300 + 400
    assert curve["an_hour_more"].iloc[-1] == 0


def test_a_long_curve_is_told_at_a_hundred_points_with_both_ends():
    rows = [(n, "pit", "A", 1.0, 1, 0, 1000.0 - n, False) for n in range(500)]
    table = pd.DataFrame(rows, columns=COLUMNS)
    whole, reported = curve_of_hours(table, points=1000), curve_of_hours(table)
    assert len(whole) == 501
    assert 50 < len(reported) <= 100
    for end in (0, -1):
        pd.testing.assert_series_equal(reported.iloc[end], whole.iloc[end], check_names=False)
    at = reported["hours"].astype(int)
    pd.testing.assert_frame_equal(reported, whole.iloc[at].reset_index(drop=True))
    assert np.diff(at)[0] < np.diff(at)[-1]  # closer where it bends
