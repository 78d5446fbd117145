"""What is questioned at once, why a check was not seen, and the contract's fingerprint."""

import dataclasses

import pytest

from scoring.contract import CHECK_BY_NAME, CHECKS, FLEET_TABLES, UNITS, Kind, Table
from scoring.contract import version as version_module
from scoring.contract.look_effort import LOOK_SETTINGS
from scoring.contract.not_seen import NOT_SEEN_REASONS
from scoring.contract.plausible import NEVER_QUESTIONED
from scoring.contract.rework_settings import REWORK_SETTINGS
from scoring.contract.version import CONTRACT_VERSION, contract_version
from scoring.contract.windows import WINDOWS

PLAUSIBLE = {check.name for check in CHECKS if check.plausible != NEVER_QUESTIONED}


def test_every_measured_check_has_plausible_limits_or_few_values() -> None:
    measured = {check.name for check in CHECKS if check.kind is not Kind.CHOICE}
    assert measured - PLAUSIBLE == {"isolators_free"}
    assert measured >= PLAUSIBLE


@pytest.mark.parametrize("name", sorted(PLAUSIBLE))
def test_plausible_limits_lie_within_what_is_allowed(name: str) -> None:
    check, plausible = CHECK_BY_NAME[name], CHECK_BY_NAME[name].plausible
    for bound in (plausible.low, plausible.high):
        if bound.of:
            column = UNITS[bound.of]
            assert column.is_numeric
            assert bound.times > 0
        if bound.fixed is not None:
            assert check.minimum is None or bound.fixed >= check.minimum
            assert check.maximum is None or bound.fixed <= check.maximum
    low, high = plausible.low.fixed, plausible.high.fixed
    assert low is None or high is None or low < high


@pytest.mark.parametrize("table", [*FLEET_TABLES, WINDOWS, REWORK_SETTINGS, LOOK_SETTINGS])
def test_every_number_that_comes_in_has_both_ends(table: Table) -> None:
    numbers = [column for column in table.columns if column.is_numeric]
    assert [n.name for n in numbers if n.minimum is None or n.maximum is None] == []
    assert [n.name for n in numbers if not abs(n.maximum or 0) <= 1e12] == []
    tiny = [n.name for n in numbers if 0 < (n.minimum or 0) < 0.01]
    assert tiny == []


def test_no_torque_is_plausible_of_itself() -> None:
    torque = CHECK_BY_NAME["final_torque_nm"].plausible
    assert torque.low.of == torque.high.of == "screw_torque_nm"
    assert torque.low.fixed is None
    assert torque.high.fixed is None


def test_reasons_for_not_seeing_say_nothing_of_the_check() -> None:
    assert list(NOT_SEEN_REASONS) == ["guard_on", "running", "no_access", "not_asked"]
    words = {word for check in CHECKS for word in check.allowed}
    assert words.isdisjoint(NOT_SEEN_REASONS)


def test_the_version_is_a_short_word_that_stays() -> None:
    assert contract_version() == CONTRACT_VERSION
    assert len(CONTRACT_VERSION) == 12


@pytest.mark.parametrize(
    "changed",
    [
        {"name": "isolator"},
        {"allowed": (), "options": {"open": "open", "plugged": "plugged", "gone": "missing"}},
        {"mountings": ("keyed_bore",)},
        {"required": True},
    ],
)
def test_the_version_follows_what_records_must_be(monkeypatch, changed: dict) -> None:
    reported = _version_with(monkeypatch, **changed)
    assert reported != CONTRACT_VERSION


@pytest.mark.parametrize("changed", [{"label": "vent"}, {"how_to_look": "look"}, {"good": "fine"}])
def test_the_version_stays_where_something_is_only_said_better(monkeypatch, changed: dict) -> None:
    assert _version_with(monkeypatch, **changed) == CONTRACT_VERSION


def _version_with(monkeypatch, **changed: object) -> str:
    def with_change(table):
        columns = tuple(
            dataclasses.replace(c, **changed) if c.name == "breather" else c for c in table.columns
        )
        return dataclasses.replace(table, columns=columns)

    tables = tuple(with_change(table) for table in version_module.FLEET_TABLES)
    monkeypatch.setattr(version_module, "FLEET_TABLES", tables)
    return contract_version()
