"""Whether lengths fit millimetres or inches: a hint for a question, never a conversion.

The ranges are planning values of ours, wide on purpose.
"""

from collections.abc import Sequence
from statistics import median

from scoring.contract import CHECK_BY_NAME
from scoring.contract.quantities import CONVERSIONS

_USUAL = {
    "shaft_diameter_mm": (20.0, 500.0),
    "shaft_diameter_measured_mm": (20.0, 500.0),
    "required_engagement_mm": (25.0, 1000.0),
    "engagement_mm": (15.0, 1000.0),
    "arm_length_mm": (150.0, 5000.0),
    "bearing_span_mm": (40.0, 1500.0),
    "hub_outer_mm": (40.0, 900.0),
    "isolator_outer_mm": (15.0, 300.0),
}
MM_PER_INCH = 25.4


def doubtful_in_mm(column: str, numbers: Sequence[float]) -> bool:
    """Tell whether values are unlikely as millimetres, and likely as inches.

    Examples
    --------
    >>> doubtful_in_mm("shaft_diameter_mm", [2.9375, 3.4375])
    True
    >>> doubtful_in_mm("shaft_diameter_mm", [75, 90])
    False
    """
    if not numbers or column not in _USUAL:
        return False
    low, high = _USUAL[column]
    middle = median(numbers)
    return not low <= middle <= high and low <= middle * MM_PER_INCH <= high


def doubtful_in_celsius(column: str, numbers: Sequence[float]) -> bool:
    """Tell whether temperatures are unlikely in °C, and likely in °F.

    Examples
    --------
    >>> doubtful_in_celsius("running_temperature_c", [135, 150, 142])
    True
    """
    check = CHECK_BY_NAME.get(column)
    if (column != "ambient_c" and (check is None or not column.endswith("_c"))) or not numbers:
        return False
    middle = median(numbers)
    fahrenheit = CONVERSIONS["_c"][0]
    highest = 45.0 if column == "ambient_c" else 100.0
    return middle > highest and (middle - fahrenheit.offset) * fahrenheit.factor < highest
