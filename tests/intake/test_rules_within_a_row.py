import pytest
from given_tables import UNIT, check, fault_of, good, only_fault


@pytest.mark.parametrize(
    ("cells", "column", "value", "wrong"),
    [
        ({"started_on": "2024-01-09"}, "started_on", "2024-01-09",
         "is before installed_on, 2024-01-10"),
        ({"out_of_service_on": "2024-01-09"}, "out_of_service_on", "2024-01-09",
         "is before the unit was hung or started"),
        ({"hub_outer_mm": "80"}, "hub_outer_mm", "80 mm",
         "is not above the shaft's diameter, 80 mm"),
        ({"isolator_outer_mm": "20", "isolator_inner_mm": "25"}, "isolator_outer_mm", "20 mm",
         "is not above isolator_inner_mm, 25 mm"),
        ({"shaft_low_mm": "79.9"}, "shaft_low_mm", "79.9 mm", "stands without its partner"),
        ({"shaft_low_mm": "80", "shaft_high_mm": "79.9"}, "shaft_low_mm", "80 mm",
         "is not below shaft_high_mm, 79.9 mm"),
        ({"collar_gap_min_mm": "2", "collar_gap_max_mm": "1"}, "collar_gap_min_mm", "2 mm",
         "is above collar_gap_max_mm, 1 mm"),
        ({"screw_thread": "10 mm"}, "screw_thread", "10 mm", "is not a thread"),
        ({"currency": "euro"}, "currency", "euro", "is not a currency code"),
    ],
)  # fmt: skip
def test_cells_of_a_unit_that_do_not_fit_each_other_are_an_error(
    cells: dict[str, str], column: str, value: str, wrong: str
) -> None:
    fault = fault_of("units", **cells)
    assert (fault["column"], fault["value"], fault["wrong"]) == (column, value, wrong)
    assert fault["right"]


def test_a_fault_between_cells_is_told_under_the_heading_as_found() -> None:
    fault = fault_of("units", hub_outer_in="2")
    assert (fault["column"], fault["value"]) == ("hub_outer_in", "50.8 mm")


@pytest.mark.parametrize("thread", ["M10", "M10x1.25", "3/8-16", "1 1/4-7", "1-8"])
def test_metric_and_unified_threads_are_read(thread: str) -> None:
    assert good(units={**UNIT, "screw_thread": thread}).fleet.units.loc[0, "screw_thread"] == thread


def test_an_acceptance_ends_after_it_begins() -> None:
    fault = fault_of("accepted", until_on="2025-02-02")
    assert fault["wrong"] == "is not after accepted_on, 2025-02-02"


def test_every_fault_of_a_row_is_told_at_once() -> None:
    unit = {**UNIT, "unit_mass_kg": "x", "currency": "euro", "installed_on": "2024-99-01"}
    faults = check(units=unit, walkdowns=[]).faults
    assert set(faults["column"]) >= {"unit_mass_kg", "currency", "installed_on"}


def test_the_good_rows_are_kept_beside_the_bad() -> None:
    checked = check(units=[UNIT, {**UNIT, "unit_id": "U-2", "unit_mass_kg": "1,5"}])
    assert only_fault(checked)["row"] == 3
    assert checked.fleet.units["unit_id"].tolist() == ["U-1"]
    assert checked.rejected["units"].rows == [["U-2", *list(UNIT.values())[1:], "1,5"]]
