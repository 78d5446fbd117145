"""What is told from the bytes of all texts is what their pattern tells, text by text."""

import pyarrow as pa
from hypothesis import given
from hypothesis import strategies as st

from scoring.intake.cells import DistinctTexts, read_texts, trimmed
from scoring.intake.plain_texts import all_plain, bytes_of

TEXTS = st.lists(st.text(st.sampled_from("aZ 9~#!N/A\t\x00\x7f\u0421\u200b\n"), max_size=5))


@given(TEXTS, st.integers(0, 3))
def test_all_are_plain_where_each_is(texts: list[str], left_out: int) -> None:
    cells = pa.array(texts, pa.string()).slice(left_out)
    rest = texts[left_out:]
    assert all_plain(cells) == all(" " <= letter <= "~" for text in rest for letter in text)
    assert bytes_of(cells).tobytes() == "".join(rest).encode()
    assert all_plain(pa.chunked_array([cells, cells.slice(1)])) == all_plain(cells)


@given(TEXTS)
def test_ids_are_as_good_among_others_as_alone(texts: list[str]) -> None:
    together = read_texts(
        DistinctTexts.of(pa.array(texts, pa.string()), row_by_row=True), longest=3
    )
    alone = [read_texts(DistinctTexts.of(pa.array([text])), longest=3).bad[0] for text in texts]
    assert together.bad.tolist() == alone


@given(TEXTS)
def test_cells_encoded_or_not_are_trimmed_alike(texts: list[str]) -> None:
    cells = pa.array(texts, pa.string())
    assert trimmed(cells).equals(trimmed(cells.dictionary_encode()))
    one, other = DistinctTexts.of(cells), DistinctTexts.of(cells.dictionary_encode())
    assert one.texts.equals(other.texts)
    assert one.codes.tolist() == other.codes.tolist()
