"""Rankings are written by columns: the bytes are those that pandas writes, cell by cell."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.files.csv_writing import NUMBER, ROWS_AT_ONCE, csv_pieces
from scoring.files.write_table import write_table

TEXTS = st.one_of(
    st.none(),
    st.text(st.characters(codec="utf-8", exclude_characters="\r"), max_size=5),
    st.sampled_from(["", ",", '"', "\n", 'a "b", c', " x ", "é", "NaN", "None"]),
)
NUMBERS = st.one_of(
    st.floats(), st.sampled_from([0.0, -0.0, 1e-300, 123456789.0, 0.1, np.nan, np.inf, -np.inf])
)
DAYS = st.one_of(st.none(), st.dates(pd.Timestamp("1900-01-01").date()))


@st.composite
def tables(draw):
    size = draw(st.integers(0, 6))

    def many(of):
        return draw(st.lists(of, min_size=size, max_size=size))

    words = many(st.one_of(st.none(), st.sampled_from(["hold", "re-work, now", 'say "no"'])))
    return pd.DataFrame(
        {
            "text": pd.Series(many(TEXTS), dtype="str"),
            "objects": pd.Series(many(TEXTS), dtype=object),
            "word, of a list": pd.Categorical(words),
            "number": np.array(many(NUMBERS), dtype=np.float64),
            "single": np.array(many(st.floats(width=32)), dtype=np.float32),
            "count": np.array(many(st.integers(-(2**40), 2**40)), dtype=np.int64),
            "small": np.array(many(st.integers(0, 200)), dtype=np.uint8),
            "whether": np.array(many(st.booleans()), dtype=bool),
            "day": pd.Series(pd.to_datetime(many(DAYS))).astype("datetime64[s]"),
        }
    )


def by_pandas(frame):
    return frame.to_csv(index=False, lineterminator="\n", float_format=NUMBER).encode()


@given(tables())
def test_bytes_are_those_of_the_slower_writer(frame):
    assert b"".join(csv_pieces(frame)) == by_pandas(frame)


def test_more_rows_than_are_put_together_at_once():
    size = 2 * ROWS_AT_ONCE + 1
    number = np.arange(size)
    frame = pd.DataFrame({"unit_id": [f"U,{n}" for n in number], "p": number / 7, "rank": number})
    assert b"".join(csv_pieces(frame)) == by_pandas(frame)


@pytest.mark.parametrize(
    "frame",
    [
        pd.DataFrame({"alone": ["", None, "x"]}),
        pd.DataFrame({"a": ["x"], "when": pd.to_datetime(["2026-06-30T10:00"])}),
        pd.DataFrame({"a": ["x", "y"], "mixed": ["x", 0.1]}),
        pd.DataFrame({"a": ["x", "y"], "code": pd.Categorical([1, 2])}),
        pd.DataFrame({"a": ["x"], "how long": pd.to_timedelta([1], unit="D")}),
    ],
    ids=lambda frame: str(frame.columns[-1]),
)
def test_what_it_does_not_know_is_left_to_the_slower_writer(frame, tmp_path):
    assert csv_pieces(frame) is None
    write_table(frame, tmp_path / "out.csv")
    assert (tmp_path / "out.csv").read_bytes() == by_pandas(frame)
