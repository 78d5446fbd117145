"""What is told from the bytes of a column is what its texts say one by one."""

import pandas as pd
from hypothesis import given
from hypothesis import strategies as st

from scoring.files.bytes_of_texts import begins_with_any, in_one_piece
from scoring.files.write_table import disarmed, table_bytes
from scoring.intake.plain_texts import holds_any
from scoring.records import TEXT

TEXTS = st.lists(st.none() | st.text(st.sampled_from('=+-@\t\r\n,"aé'), max_size=4), max_size=6)


@given(TEXTS, st.integers(0, 2))
def test_letters_of_texts(texts, left_out):
    column = pd.Series(texts, dtype=TEXT).iloc[left_out:]
    cells, there = in_one_piece(column), [text for text in texts[left_out:] if text is not None]
    assert holds_any(cells, b",\r") == any(letter in text for text in there for letter in ",\r")
    assert begins_with_any(cells, b"=-") == any(text[:1] in {"=", "-"} for text in there)


@given(TEXTS)
def test_the_same_bytes_as_text_or_object(texts):
    one, other = ({"unit_id": pd.Series(texts, dtype=kind), "n": 1.5} for kind in (TEXT, object))
    assert table_bytes(pd.DataFrame(one), ".csv") == table_bytes(pd.DataFrame(other), ".csv")
    plain = disarmed(pd.DataFrame(one))["unit_id"].tolist()
    assert [text if isinstance(text, str) else None for text in plain] == [
        text
        if text is None
        else (("'" if text[:1] in {*"=+-@\t\r"} else "") + text)
        .replace("\r\n", "\n")
        .replace("\r", "\n")
        for text in texts
    ]


def test_numbers_are_written_with_eight_digits():
    values = [0.1, None, 1e-9, 123456789.0, -0.0, float("inf"), None, 12345.6789]
    frame = pd.DataFrame({"n": values, "m": 1})
    lines = [("" if pd.isna(v) else f"{v:.8g}") + ",1" for v in values]
    assert table_bytes(frame, ".csv").decode().splitlines()[1:] == lines
