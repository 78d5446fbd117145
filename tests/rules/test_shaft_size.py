"""The measured shaft against ISO 286 limits.

Published: ISO 286-2, as read in an extract of DIN ISO 286-2 and a table of round-bar tolerances;
and, as a second opinion, the package ``isofits``.
"""

import isofits
import pytest
from small_fleets import judged, rules_of

# nominal [mm], class, lower and upper deviation [µm]
PUBLISHED = [
    (16, "h6", -11, 0),
    (25, "h7", -21, 0),
    (40, "h8", -39, 0),
    (65, "h9", -74, 0),
    (80, "h11", -190, 0),
    (100, "h10", -140, 0),
    (150, "h9", -100, 0),
    (45, "k6", 2, 18),
    (65, "m6", 11, 30),
]


def off_size(nominal, tolerance, measured):
    unit = {"mounting": "keyed_bore", "shaft_diameter_mm": nominal, "shaft_tolerance": tolerance}
    found = judged(unit, shaft_diameter_measured_mm=f"{measured:.3f}")
    return "shaft_off_size" in rules_of(found)


@pytest.mark.parametrize(("nominal", "tolerance", "low", "high"), PUBLISHED)
def test_a_shaft_within_its_published_limits_is_good_and_a_micrometre_beyond_is_not(
    nominal, tolerance, low, high
):
    assert not off_size(nominal, tolerance, nominal + low / 1000)
    assert not off_size(nominal, tolerance, nominal + high / 1000)
    assert off_size(nominal, tolerance, nominal + (low - 1) / 1000)
    assert off_size(nominal, tolerance, nominal + (high + 1) / 1000)


@pytest.mark.parametrize("tolerance", ["h6", "h7", "h8", "h9", "h10", "h11", "k6", "m6"])
@pytest.mark.parametrize("nominal", [20, 50, 90, 170])
def test_the_limits_are_those_of_an_independent_package(nominal, tolerance):
    """The package ``isofits`` 1.0 gives both deviations in micrometres."""
    low, high = sorted(isofits.isotol("shaft", nominal, tolerance, "both"))
    assert not off_size(nominal, tolerance, nominal + low / 1000)
    assert not off_size(nominal, tolerance, nominal + high / 1000)
    assert off_size(nominal, tolerance, nominal + low / 1000 - 0.001)
    assert off_size(nominal, tolerance, nominal + high / 1000 + 0.001)
