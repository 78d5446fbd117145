"""Ids made from unit, day and order stay the same: on the same file, and on a longer one."""

import pandas as pd
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.reading_plan.made_keys import with_made_keys

VISITS = st.lists(
    st.tuples(
        st.sampled_from(["A", "B"]),
        st.sampled_from(["2025-03-07", "2025-03-07T14:30", "2025-03-08"]),
        st.sampled_from(["post_install", "periodic", "after_rework"]),
        st.sampled_from(["tight", "loose", ""]),
    ),
    max_size=12,
)


def table(visits):
    rows = pd.DataFrame(visits, columns=["unit_id", "inspected_on", "kind", "arm_bolts"], dtype=str)
    return rows.assign(row=range(2, len(rows) + 2))


def keys(visits):
    made = with_made_keys("walkdowns", table(visits))
    said = made.drop(columns=["row", "walkdown_id"]).itertuples(index=False, name=None)
    return dict(zip(said, made["walkdown_id"], strict=True))


@settings(deadline=None)
@given(visits=VISITS)
def test_each_visit_has_a_key_of_its_own_and_the_same_row_twice_is_one(visits):
    made = keys(visits)
    assert set(made) == set(visits)
    assert len(set(made.values())) == len(made)
    assert all(key.startswith(f"{unit}@{day[:10]}") for (unit, day, *_), key in made.items())


@settings(deadline=None)
@given(visits=VISITS, later=VISITS)
def test_later_days_leave_the_keys_of_what_was_there(visits, later):
    more = [(unit, day.replace("2025", "2026"), *rest) for unit, day, *rest in later]
    before, after = keys(visits), keys([*visits, *more])
    assert {visit: after[visit] for visit in before} == before


def test_rows_of_a_source_without_keys_get_them_beside_one_that_has_its_own():
    rows = pd.DataFrame({
        "rework_id": ["J1", ""],
        "unit_id": ["A", "B"],
        "done_on": ["2025-03-07", "2025-03-08"],
        "actions": ["renew_seal", "open_breather"],
        "lacks key": [False, True],
        "row": [2, 3],
    })  # fmt: skip
    assert with_made_keys("rework", rows)["rework_id"].tolist() == ["J1", "B@2025-03-08"]
