"""Torque of each pass and order of the screws: from the unit's record or a person, never ours."""

import json

import pytest
from units_to_walk import FULL, fleet, fleet_of, rows_of_units

from scoring.contract.mountings import CLAMPED
from scoring.rules.tightening_schedule import tightening_table
from scoring.walkdown_form.document import form_document


def help_of(unit_id: str) -> dict:
    return form_document(fleet().units, [unit_id])["units"][0]["tightening"]


@pytest.mark.parametrize("mounting", CLAMPED)
def test_passes_and_order_are_those_of_the_schedule(mounting: str) -> None:
    reported = help_of(f"full {mounting}")
    table = tightening_table(120, 8, mounting, 4)
    torques = [share * reported["final_torque_nm"] for share in reported["shares"]]
    assert torques == pytest.approx(table["torque_nm"].tolist()[:4], abs=1e-3)
    assert " ".join(map(str, reported["order"])) == table["order"].iloc[0]
    assert reported["passes"] == len(reported["shares"]) == 4
    assert reported["order_words"] == ("star" if mounting == "tapered_bushing" else "circular")


@pytest.mark.parametrize("mounting", CLAMPED)
def test_no_torque_is_ever_supplied(mounting: str) -> None:
    reported = form_document(fleet().units, [f"least {mounting}"])
    unit = reported["units"][0]
    assert unit["tightening"]["final_torque_nm"] is None
    assert unit["tightening"]["order"] is None
    assert unit["tightening"]["shares"] == [0.25, 0.5, 1.0]
    assert "unit's own manual" in unit["tightening"]["note"]
    torque = next(step for step in unit["steps"] if step["check"] == "final_torque_nm")
    assert (torque["usual"], torque["plausible"], torque["beyond"]) == (None, None, {})
    del reported["pictures"]
    assert not any(c.isdigit() for c in json.dumps(torque["good"] + torque["how_to_look"]))


@pytest.mark.parametrize(("screws", "order"), [("1", None), ("2", [1, 2]), ("200", None)])
def test_odd_numbers_of_screws_give_an_order_or_none(screws: str, order: list[int] | None) -> None:
    row = FULL | {"unit_id": "U", "mounting": "shrink_disc", "screw_count": screws}
    reported = form_document(fleet_of([row]).units, ["U"])["units"][0]["tightening"]
    assert reported["order"] == order


@pytest.mark.parametrize("asked", ["1", "2"])
def test_fewer_passes_than_three_are_never_advised(asked: str) -> None:
    row = FULL | {"unit_id": "U", "mounting": "shrink_disc", "torque_passes_required": asked}
    reported = form_document(fleet_of([row]).units, ["U"])["units"][0]["tightening"]
    assert reported["passes"] == 3


def test_a_keyed_bore_needs_none() -> None:
    keyed = [r["unit_id"] for r in rows_of_units() if r["mounting"] == "keyed_bore"]
    assert [help_of(unit_id) for unit_id in keyed] == [None, None]
