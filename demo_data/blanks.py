"""Cells that are left blank."""

import numpy as np

from demo_data.arrays import Flags, Words


def blank_unless(known: Flags, words: Words | list[str]) -> Words:
    """Return the words where they are known, and a missing value elsewhere.

    Examples
    --------
    >>> blank_unless(np.array([True, False]), ["belt", "belt"])
    array(['belt', None], dtype=object)
    """
    cells = np.array(words, dtype=object)
    cells[~known] = None
    return cells
