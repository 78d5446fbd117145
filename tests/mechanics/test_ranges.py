"""What lies outside a formula's range is refused; what is missing stays missing."""

import numpy as np
import pytest

from scoring.errors import OutOfRangeError
from scoring.mechanics.provenance import Provenance, SourcedRange
from scoring.mechanics.validity_ranges import between, not_negative, positive, require


def test_missing_values_pass_and_keep_their_place() -> None:
    for checked in (
        positive("a", [1.0, np.nan], "m"),
        not_negative("a", [0.0, np.nan], "m"),
        between("a", [1.0, np.nan], "m", 0, 1),
    ):
        assert np.isnan(checked).tolist() == [False, True]
    assert np.isnan(positive("a", np.nan, "m"))


@pytest.mark.parametrize("wrong", [-1.0, np.inf, -np.inf])
def test_out_of_range_values_are_refused(wrong: float) -> None:
    with pytest.raises(OutOfRangeError, match=r"length is .* m; this formula holds for"):
        positive("length", [1.0, wrong], "m")
    with pytest.raises(OutOfRangeError):
        not_negative("length", [1.0, wrong], "m")
    with pytest.raises(OutOfRangeError):
        between("length", [1.0, wrong], "m", 0.0, np.inf)


def test_zero_is_not_positive_and_limits_are_closed() -> None:
    with pytest.raises(OutOfRangeError):
        positive("length", 0, "m")
    assert not_negative("length", 0, "m") == 0
    assert between("length", [1, 2], "m", 1, 2).tolist() == [1.0, 2.0]
    with pytest.raises(OutOfRangeError):
        between("length", 2.0001, "m", 1, 2)


def test_a_relation_is_refused_with_the_value_that_breaks_it() -> None:
    hub = np.array([[0.1], [0.2]])
    with pytest.raises(OutOfRangeError, match=r"hub is 0\.1 m"):
        require("hub", hub, ~(hub <= np.array([0.05, 0.15])), "m", "a hub larger than its bore")


def test_a_range_needs_its_order_and_its_source() -> None:
    with pytest.raises(ValueError, match="low <= typical"):
        SourcedRange(low=2, typical=1, high=3, unit="-", provenance=Provenance.PLANNING, source="x")
    with pytest.raises(ValueError, match="source"):
        SourcedRange(low=1, typical=1, high=1, unit="-", provenance=Provenance.PUBLISHED, source="")
