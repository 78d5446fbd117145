"""Words joined for a whole fleet, against a loop over units."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from scoring.limits.join_words import join_words

SIZE = 4
WORDS = st.sampled_from(["gap", "torque", "guard off"])
FLAGS = st.lists(st.booleans(), min_size=SIZE, max_size=SIZE)
PARTS = st.lists(
    st.tuples(FLAGS, WORDS | st.lists(WORDS, min_size=SIZE, max_size=SIZE)), max_size=6
)


@given(PARTS, st.none() | st.integers(1, 4), st.sampled_from(["; ", ", "]))
def test_words_are_those_of_a_plain_loop(parts, most, mark):
    given_parts = [
        (np.array(flags), words if isinstance(words, str) else np.array(words, dtype=object))
        for flags, words in parts
    ]
    joined = join_words(given_parts, SIZE, mark=mark, most=most)
    for unit in range(SIZE):
        said = [w if isinstance(w, str) else w[unit] for flags, w in parts if flags[unit]]
        shown = said if most is None else said[:most]
        left = len(said) - len(shown)
        assert joined[unit] == mark.join([*shown, *([f"and {left} more"] if left else [])])
