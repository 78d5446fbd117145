import math
from fractions import Fraction

import pytest
from given_tables import UNIT, WALKDOWN, check, fault_of, faults_of_cells, good, only_fault
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.contract import FLEET_TABLES, TABLE_BY_NAME
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.contract.quantities import alternative_names

CONVERTED = [
    (table.name, column, heading, conversion)
    for table in FLEET_TABLES
    for column in table.columns
    for heading, conversion in alternative_names(column.name).items()
]
EXACT = {
    "_in": Fraction("25.4"),
    "_lb": Fraction("0.45359237"),
    "_lbf": Fraction("0.45359237") * Fraction("9.80665"),
    "_lbft": Fraction("0.45359237") * Fraction("9.80665") * Fraction("0.3048"),
    "_lbin": Fraction("0.45359237") * Fraction("9.80665") * Fraction("0.0254"),
    "_hp": Fraction("0.45359237") * Fraction("9.80665") * Fraction("0.3048") * 550 / 1000,
    "_in_s_rms": Fraction("25.4"),
}
TWO = {suffix: float(2 * factor) for suffix, factor in EXACT.items()} | {
    "_f": (2 - 32) * 5 / 9,
    "_in_s_peak": 2 * 25.4 / math.sqrt(2),
}
PARTNER = {
    "shaft_low_mm": {"shaft_high_mm": "2000"},
    "shaft_high_mm": {"shaft_low_mm": "5"},
    "hub_outer_mm": {"shaft_diameter_mm": "5"},
    "isolator_inner_mm": {"isolator_outer_mm": "2000"},
    "collar_gap_min_mm": {"collar_gap_max_mm": "100"},
}


def test_the_same_stem_with_another_suffix_is_converted_on_the_way_in() -> None:
    blank = dict.fromkeys((heading for _, _, heading, _ in CONVERTED), "")
    units = [{**blank, **UNIT, "unit_id": m, "mounting": m} for m in EVERY_MOUNTING]
    walkdowns = []
    for place, (table, column, heading, _) in enumerate(CONVERTED):
        key = f"K-{place:03d}"
        if table == "units":
            units.append(
                {
                    **blank,
                    **UNIT,
                    **PARTNER.get(column.name, {}),
                    "unit_id": key,
                    column.name: "",
                    heading: "2",
                }
            )
        if table == "walkdowns":
            unit_id = getattr(column, "mountings", EVERY_MOUNTING)[-1]
            walkdowns.append(
                {**blank, **WALKDOWN, "walkdown_id": key, "unit_id": unit_id, heading: "2"}
            )
    fleet = good(
        units=[_only(row, "units") for row in units],
        walkdowns=[_only(row, "walkdowns") for row in walkdowns],
    ).fleet
    for place, (table, column, _, conversion) in enumerate(CONVERTED):
        frame = fleet.table(table).set_index(TABLE_BY_NAME[table].key)
        value = frame.loc[f"K-{place:03d}", column.name]
        assert value == pytest.approx(TWO[conversion.suffix], rel=1e-12)


def _only(row: dict[str, object], table: str) -> dict[str, object]:
    """Return a row without the headings of other tables."""
    others = {heading for name, _, heading, _ in CONVERTED if name != table}
    return {k: v for k, v in row.items() if k not in others}


@settings(max_examples=12, deadline=None)
@given(st.decimals(1, 70, places=3))
def test_inches_pounds_and_fahrenheit_equal_the_same_fleet_in_millimetres_and_celsius(
    number: object,
) -> None:
    text = str(number)
    amount = Fraction(text)
    imperial = {
        **{k: v for k, v in UNIT.items() if k != "shaft_diameter_mm"},
        "shaft_diameter_in": text,
        "bearing_dynamic_rating_lbf": text,
        "unit_mass_lb": text,
        "motor_power_hp": text,
        "screw_torque_lbft": text,
    }
    metric = {
        **UNIT,
        "shaft_diameter_mm": repr(float(amount * EXACT["_in"])),
        "bearing_dynamic_rating_n": repr(float(amount * EXACT["_lbf"])),
        "unit_mass_kg": repr(float(amount * EXACT["_lb"])),
        "motor_power_kw": repr(float(amount * EXACT["_hp"])),
        "screw_torque_nm": repr(float(amount * EXACT["_lbft"])),
    }
    degrees = Fraction(text) / 2
    one = good(units=imperial, walkdowns={**WALKDOWN, "running_temperature_f": float(degrees)})
    other = good(
        units=metric,
        walkdowns={**WALKDOWN, "running_temperature_c": repr(float((degrees - 32) * 5 / 9))},
    )
    for name in ("units", "walkdowns"):
        numbers = one.fleet.table(name).select_dtypes("float").to_numpy().ravel()
        expected = other.fleet.table(name).select_dtypes("float").to_numpy().ravel()
        assert numbers == pytest.approx(expected, rel=1e-12, abs=1e-12, nan_ok=True)


@pytest.mark.parametrize(
    ("text", "inches"),
    [("2 15/16", 2.9375), ("2-15/16", 2.9375), ("15/16", 0.9375), ("3", 3), ("2.9375", 2.9375)],
)
def test_2_15_16_inches_are_read(text: str, inches: float) -> None:
    unit = {k: v for k, v in UNIT.items() if k != "shaft_diameter_mm"}
    units = good(units={**unit, "shaft_diameter_in": text}).fleet.units
    assert units.loc[0, "shaft_diameter_mm"] == pytest.approx(inches * 25.4, rel=1e-12)


def test_what_is_no_fraction_is_an_error_with_the_unit_as_given() -> None:
    texts = ["15/0", "2 15/", "2 15/16 in", "1/2/3", "-1/2", '2"']
    faults = faults_of_cells("units", [("hub_outer_in", text) for text in texts])
    assert faults["value"].tolist() == texts
    assert set(faults["right"]) == {"a number from 5 to 3000 mm, given in in"}


def test_peak_vibration_is_divided_by_the_square_root_of_two_and_listed_under_assumed() -> None:
    checked = good(walkdowns={**WALKDOWN, "vibration_in_s_peak": "0.2"})
    assert checked.fleet.walkdowns.loc[0, "vibration_mm_s"] == pytest.approx(3.5921, rel=1e-4)
    assert checked.assumptions == (
        "vibration_in_s_peak: peak velocity divided by the square root of two, as for a pure tone",
    )
    assert good(walkdowns={**WALKDOWN, "vibration_in_s_rms": "0.2"}).assumptions == ()


def test_a_bare_in_s_is_an_error_as_it_leaves_open_whether_peak_or_rms() -> None:
    checked = check(walkdowns={**WALKDOWN, "vibration_in_s": "0.2"})
    fault = only_fault(checked)
    assert (fault["row"], fault["column"]) == (1, "vibration_in_s")
    assert fault["wrong"] == "leaves its unit open"
    assert fault["right"] == (
        "say whether it is _in_s_peak or _in_s_rms; they differ by a factor of 1.41"
    )
    assert checked.unusable == ("walkdowns",)


def test_both_stems_filled_that_agree_within_rounding_are_no_error() -> None:
    units = good(units={**UNIT, "shaft_diameter_mm": "75", "shaft_diameter_in": "2.953"})
    assert units.fleet.units.loc[0, "shaft_diameter_mm"] == 75
    rough = {**UNIT, "unit_mass_kg": "1.5e2", "unit_mass_lb": "332"}
    assert good(units=rough).fleet.units.loc[0, "unit_mass_kg"] == 150


def test_both_stems_filled_that_differ_are_an_error_that_shows_both() -> None:
    fault = only_fault(check(units={**UNIT, "shaft_diameter_in": "3.5"}))
    assert fault["column"] == "shaft_diameter_in"
    assert fault["value"] == "3.5"
    assert fault["wrong"] == (
        "in is 88.9 mm and differs from shaft_diameter_mm, 80 mm, in the same row"
    )
    assert fault["right"] == "one of the two, or both the same"


def test_of_three_stems_the_two_that_differ_are_named() -> None:
    unit = {**UNIT, "screw_torque_nm": "", "screw_torque_lbft": "100", "screw_torque_lbin": "1300"}
    fault = only_fault(check(units=unit))
    assert fault["column"] == "screw_torque_lbin"
    assert "differs from screw_torque_lbft, 135.582 N·m" in str(fault["wrong"])


def test_a_blank_stem_lends_no_rounding_to_the_others() -> None:
    # 890 lbf·in are 100.56 N·m: more than half a newton metre from 100.
    unit = {**UNIT, "screw_torque_nm": "100", "screw_torque_lbft": "", "screw_torque_lbin": "890"}
    assert only_fault(check(units=unit))["column"] == "screw_torque_lbin"


def test_each_row_may_fill_another_stem() -> None:
    rows = [
        {**UNIT, "shaft_diameter_in": ""},
        {**UNIT, "unit_id": "U-2", "shaft_diameter_mm": "", "shaft_diameter_in": "4"},
    ]
    assert good(units=rows).fleet.units["shaft_diameter_mm"].tolist() == [80.0, 101.6]


def test_a_value_outside_its_limits_is_told_in_the_unit_as_given() -> None:
    fault = fault_of("walkdowns", running_temperature_f="600")
    assert fault["wrong"] == "°F is outside what is allowed"
    assert fault["right"] == "a number from -60 to 250 °C, given in °F"
