"""Words joined for a whole fleet at once, against each unit by itself."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.limits.join_words import join_words


@st.composite
def parts_of_units(draw):
    """Draw up to 20 words, the same for all units or each its own, and where they hold."""
    size = draw(st.integers(0, 6))
    flags = st.lists(st.booleans(), min_size=size, max_size=size)
    parts = []
    for number in range(draw(st.integers(0, 20))):
        where = np.array(draw(flags), dtype=bool)
        own = np.array([f"own {number} of {unit}" for unit in range(size)], dtype=object)
        parts.append((where, own if draw(st.booleans()) else f"word {number}"))
    return size, parts


@given(parts_of_units(), st.sampled_from([None, 1, 3]))
def test_each_unit_has_its_own_words_in_order(drawn, most):
    size, parts = drawn
    joined = join_words(parts, size, mark=" / ", most=most)
    for unit in range(size):
        said = [
            words if isinstance(words, str) else words[unit]
            for where, words in parts
            if where[unit]
        ]
        more = len(said) - len(said[:most])
        wanted = " / ".join([*said[:most], *([f"and {more} more"] if more else [])])
        assert joined[unit] == wanted


@pytest.mark.parametrize("words", [7, 8, 9, 17])
def test_words_that_all_units_share(words):
    parts = [(np.ones(3, dtype=bool), f"word {number}") for number in range(words)]
    assert join_words(parts, 3).tolist() == ["; ".join(f"word {n}" for n in range(words))] * 3
