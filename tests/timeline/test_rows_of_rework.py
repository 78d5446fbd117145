"""From a place in the order of all records back to the row that a person wrote."""

import numpy as np
from fleets import Book


def test_a_place_in_the_order_leads_to_its_row_of_rework_and_others_to_none():
    book = Book().unit().look("2024-01-02").reworked("2024-03-01", "open_breather")
    book = book.failed("2024-02-01", "other").reworked("2024-01-05", "fit_guard")
    # in order: the look, the guard (written down second), the failure, the breather
    timeline = book.timeline()
    assert timeline.row_of_rework(np.arange(4)).tolist() == [-1, 1, -1, 0]
    assert timeline.row_of_rework(np.array([3, 1])).tolist() == [0, 1]
