"""A form filled in from its own data is read without a fault, and as it was filled in."""

import json
from pathlib import Path

import pandas as pd
import pytest
from units_to_walk import AS_OF, fleet, raw, rows_of_units, visit

from scoring.contract.version import CONTRACT_VERSION
from scoring.files.route_reading import WRITTEN_BY, read_route
from scoring.intake import check_fleet
from scoring.walkdown_form.document import form_document

UNITS = [row["unit_id"] for row in rows_of_units()]


def answers_to(step: dict, measure: str, *, worst: bool) -> tuple[dict[str, str], object]:
    """Return an answer to a step, and what it should be read as."""
    if step["options"]:
        option = step["options"][-1 if worst else 0]
        value = option["value"]
        kept: object = float(value) if step["entries"] else value
        return _answer(step["check"], step["check"], value), kept
    entry = next((e for e in step["entries"] if e["measure"] == measure), step["entries"][0])
    usual = step["usual"] or {"low": 2.0, "high": None}
    good = usual["low"] if usual["low"] is not None else usual["high"]
    number = 3.0 if step["kind"] == "count" else round(good / entry["factor"] + entry["offset"], 3)
    text = f"{number:.4g}"
    kept = (float(text) - entry["offset"]) * entry["factor"]
    return _answer(step["check"], entry["heading"], text), kept


def _answer(field: str, heading: str, value: str) -> dict[str, str]:
    return {"field": field, "heading": heading, "value": value, "reason": ""}


def filled(unit: dict, number: int, measure: str, *, worst: bool) -> tuple[dict, dict[str, object]]:
    """Return the walkdown of a unit as the form keeps it, and what should be read."""
    given = {step["check"]: answers_to(step, measure, worst=worst) for step in unit["steps"]}
    start = {"kind": "periodic", "inspected_on": "2026-05-02", "inspector": "Ada",
             "machine_state": "hanging", "units_of_measure": measure}  # fmt: skip
    walkdown = {
        "walkdown_id": f"W-{number}",
        "unit_id": unit["unit_id"],
        "finished": True,
        "answers": [_answer(name, name, value) for name, value in start.items()]
        + [answer for answer, _ in given.values()],
        "photos": [],
        "signed_by": "Ada",
        "signed_at": "2026-05-02T14:00:00",
        "told": "",
        "recorded_at": "2026-05-02T14:00:00",
    }
    return walkdown, {check: kept for check, (_, kept) in given.items()}


@pytest.mark.parametrize("measure", ["metric", "inch"])
@pytest.mark.parametrize("worst", [False, True])
def test_every_mounting_filled_in_is_read_as_given(
    tmp_path: Path, measure: str, *, worst: bool
) -> None:
    document = form_document(fleet().units, UNITS)
    made = [filled(u, n, measure, worst=worst) for n, u in enumerate(document["units"])]
    path = tmp_path / "route.json"
    content = {
        "written_by": WRITTEN_BY,
        "contract": CONTRACT_VERSION,
        "route": "all",
        "saved_at": "2026-05-02T15:00:00",
        "walkdowns": [one for one, _ in made],
    }
    path.write_text(json.dumps(content), encoding="utf-8")
    route = read_route(path)
    first = raw("walkdowns", [visit(UNITS[0])])
    tables = {"units": raw("units", rows_of_units()), "walkdowns": first.with_added(route.table())}
    checked = check_fleet(tables, AS_OF)
    assert checked.faults.empty, checked.faults.to_string()
    assert not any("aside" in note for note in checked.notes), checked.notes
    read = checked.fleet.walkdowns.set_index("walkdown_id")
    for (walkdown, kept), unit_id in zip(made, UNITS, strict=True):
        row = read.loc[walkdown["walkdown_id"]]
        assert row["unit_id"] == unit_id
        assert row["inspected_on"] == pd.Timestamp("2026-05-02")
        for check, value in kept.items():
            expected = value if isinstance(value, str) else pytest.approx(value)
            assert row[check] == expected, check
