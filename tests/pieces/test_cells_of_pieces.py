"""Cells come out of pieces as they went in, whatever of them was kept as numbers of texts."""

import pyarrow as pa
import pyarrow.compute as pc
from hypothesis import given
from hypothesis import strategies as st

from scoring.files.arrow_as_text import arrow_as_encoded_text, arrow_as_text
from scoring.pieces.cells_of_pieces import as_kept, in_one, put_together

COLUMNS = st.one_of(
    st.lists(st.none() | st.text("ab ", max_size=2)).map(lambda v: pa.array(v, pa.string())),
    st.lists(st.none() | st.floats(width=32)).map(lambda v: pa.array(v, pa.float64())),
    st.lists(st.none() | st.integers(-5, 5)).map(lambda v: pa.array(v, pa.int64())),
    st.lists(st.none() | st.dates()).map(lambda v: pa.array(v, pa.date32())),
    st.lists(st.none() | st.booleans()).map(lambda v: pa.array(v, pa.bool_())),
)


@given(COLUMNS)
def test_encoded_text_says_the_same(column):
    for given_as in (column, column.dictionary_encode(), column.slice(1)):
        chunks = pa.chunked_array([given_as])
        encoded = arrow_as_encoded_text(chunks, "x")
        assert encoded.to_pylist() == arrow_as_text(chunks, "x").to_pylist()
        assert encoded.null_count == encoded.indices.null_count == 0


@given(COLUMNS, st.integers(1, 3))
def test_cells_come_out_as_they_went_in(column, pieces):
    whole = arrow_as_encoded_text(pa.chunked_array([column]), "x")
    files = [whole.slice(0, 2), whole.slice(2)]
    kept = [as_kept(pa.chunked_array([part]), pieces) for part in files]
    assert put_together(kept).to_pylist() == whole.to_pylist()


def test_few_texts_are_kept_once():
    many = pa.array(["a", "b"] * 50).dictionary_encode()
    assert pa.types.is_dictionary(as_kept(pa.chunked_array([many]), 50).type)
    assert pa.types.is_string(as_kept(pa.chunked_array([many]), 51).type)
    together = put_together([many.slice(1, 3), many.slice(0, 2)])
    assert pc.count_distinct(together.dictionary).as_py() == len(together.dictionary)
    assert in_one(pa.chunked_array([], pa.string())).to_pylist() == []
