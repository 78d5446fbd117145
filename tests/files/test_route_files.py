"""Files of the walkdown form without a network: read as tapped, or refused with advice."""

import base64
import json
from copy import deepcopy
from pathlib import Path

import pytest
from click.testing import CliRunner
from written_fleets import UNITS, WALKDOWNS, check_place, good_place, write_fleet

from scoring.cli.main import cli
from scoring.contract.not_seen import NOT_SEEN_REASONS
from scoring.contract.version import CONTRACT_VERSION
from scoring.errors import FixableError, UnreadableFleetError
from scoring.files.route_reading import ADVICE, WRITTEN_BY, read_route

JPEG = b"\xff\xd8\xff\xe0 and so forth"


def answer(field: str, value: str = "", reason: str = "", heading: str = "") -> dict[str, str]:
    return {"field": field, "heading": heading or field, "value": value, "reason": reason}


def walkdown(number: int = 1, unit_id: str = "0012", *, finished: bool = True) -> dict[str, object]:
    return {
        "walkdown_id": f"W-{number:020}",
        "unit_id": unit_id,
        "finished": finished,
        "answers": [
            answer("kind", "periodic"),
            answer("inspected_on", "2026-05-02"),
            answer("inspector", "Ada </script><img src=x>"),
            answer("machine_state", "stopped"),
            answer("units_of_measure", "inch"),
            answer("notes", 'first line\nsecond, with ; and "quotes" and é'),
            answer("engagement_mm", "2 15/16", heading="engagement_in"),
            answer("isolators_free", "0"),
            answer("breather", "plugged"),
            answer("guard", reason="guard_on"),
        ],
        "photos": [{"check": "breather", "image": base64.b64encode(JPEG).decode()}],
        "signed_by": "Ada",
        "signed_at": "2026-05-02T14:03:00",
        "told": "the foreman",
        "recorded_at": "2026-05-02T14:02:11",
    }


def route(*walkdowns: dict[str, object]) -> dict[str, object]:
    return {
        "written_by": WRITTEN_BY,
        "contract": CONTRACT_VERSION,
        "route": "north pit",
        "saved_at": "2026-05-02T15:00:00",
        "walkdowns": list(walkdowns or (walkdown(),)),
    }


def write(folder: Path, content: object, name: str = "route.json") -> Path:
    path = folder / name
    text = content if isinstance(content, str) else json.dumps(content)
    path.write_text(text, encoding="utf-8")
    return path


def test_what_was_tapped_is_what_is_read(tmp_path: Path) -> None:
    path = write(tmp_path, route())
    checked = good_place(write_fleet(tmp_path / "fleet"), path)
    row = checked.fleet.walkdowns.set_index("walkdown_id").loc[f"W-{1:020}"]
    assert row["unit_id"] == "0012"
    assert row["engagement_mm"] == pytest.approx(2.9375 * 25.4)
    assert row["isolators_free"] == 0
    assert row["breather"] == "plugged"
    assert row["guard"] != row["guard"]  # not seen is missing, never good
    assert row["inspector"] == "Ada </script><img src=x>"
    assert row["notes"].startswith("first line\nsecond")
    assert str(row["recorded_at"]) == "2026-05-02 14:02:11"
    assert not any("heading" in note for note in checked.notes)


def test_what_the_table_has_no_place_for_is_kept_beside_it(tmp_path: Path) -> None:
    found = read_route(write(tmp_path, route()))
    beside = found.beside()[f"W-{1:020}"]
    assert beside.not_seen == {"guard": "guard_on"}
    assert [(photo.check, photo.image) for photo in beside.photos] == [("breather", JPEG)]
    assert (beside.signed_by, beside.told) == ("Ada", "the foreman")
    assert {one.field: one.value for one in beside.answers}["machine_state"] == "stopped"
    assert found.notes == ()


def test_two_walkdowns_of_differing_answers_make_one_table(tmp_path: Path) -> None:
    other = walkdown(2, "12")
    other["answers"] = [answer("kind", "periodic"), answer("inspected_on", "2026-05-03"),
                        answer("engagement_mm", "80")]  # fmt: skip
    path = write(tmp_path, route(walkdown(), other))
    read = good_place(write_fleet(tmp_path / "fleet"), path).fleet.walkdowns.set_index("unit_id")
    assert read.loc["12", "engagement_mm"].tolist()[-1] == 80


def test_what_is_not_signed_is_left_out_and_said(tmp_path: Path) -> None:
    path = write(tmp_path, route(walkdown(1, "12", finished=False), walkdown(2)))
    found = read_route(path)
    assert [one.finished for one in found.walkdowns] == [False, True]
    assert found.table().rows.tolist() == [3]
    assert "left out" in found.notes[0]
    assert "12" in found.notes[0]
    assert list(found.beside()) == [f"W-{2:020}"]


def test_a_route_on_which_nothing_is_signed_yet_adds_nothing(tmp_path: Path) -> None:
    path = write(tmp_path, route(walkdown(finished=False)))
    read = good_place(write_fleet(tmp_path / "fleet"), path).fleet.walkdowns
    assert read["walkdown_id"].tolist() == ["W-1", "W-2"]


def test_a_wrong_answer_is_told_with_its_walkdown(tmp_path: Path) -> None:
    wrong = walkdown()
    wrong["answers"][7]["value"] = "7"
    checked = check_place(write_fleet(tmp_path / "fleet"), write(tmp_path, route(wrong)))
    assert checked.faults["column"].tolist() == ["isolators_free"]
    assert checked.faults["source"].str.endswith("route.json").all()
    assert checked.faults["row"].tolist() == [2]


def test_a_page_of_another_version_is_read_and_said(tmp_path: Path) -> None:
    found = read_route(write(tmp_path, route() | {"contract": "0123456789ab"}))
    assert "another version" in found.notes[0]
    assert len(found.walkdowns) == 1


def test_a_route_alone_is_no_fleet(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFleetError, match="no table units"):
        check_place(write(tmp_path, route()))


def change_answer(**changed: object):
    def change(content: dict) -> None:
        content["walkdowns"][0]["answers"][8].update(changed)

    return change


def change_walkdown(**changed: object):
    def change(content: dict) -> None:
        content["walkdowns"][0].update(changed)

    return change


DAMAGED = {
    "another writer": lambda c: c.update(written_by="somebody"),
    "no walkdowns": lambda c: c.pop("walkdowns"),
    "walkdowns of another kind": lambda c: c.update(walkdowns={"a": 1}),
    "a walkdown of another kind": lambda c: c.update(walkdowns=["W-1"]),
    "one walkdown twice": lambda c: c["walkdowns"].append(c["walkdowns"][0]),
    "a name that is none": change_walkdown(signed_by=7),
    "a lone surrogate": change_walkdown(told="\ud800"),
    "a control character": change_walkdown(unit_id="00\u001b12"),
    "an endless text": change_walkdown(told="x" * 5000),
    "finished in words": change_walkdown(finished="yes"),
    "an unknown entry": change_walkdown(more=1),
    "an unknown check": change_answer(field="colour", heading="colour"),
    "the key answered": change_answer(field="unit_id", heading="unit_id"),
    "another check's heading": change_answer(heading="guard"),
    "an unknown reason": change_answer(value="", reason="lazy"),
    "both seen and not": change_answer(reason="no_access"),
    "a number, not what was typed": change_answer(value=1),
    "answered twice": lambda c: c["walkdowns"][0]["answers"].append(answer("breather", "open")),
    "why nobody said the kind": lambda c: c["walkdowns"][0]["answers"][0].update(
        value="", reason="no_access"
    ),
    "answers of another kind": change_walkdown(answers="all good"),
    "a photo that is none": lambda c: c["walkdowns"][0]["photos"][0].update(image="aGVsbG8="),
    "a photo not in base64": lambda c: c["walkdowns"][0]["photos"][0].update(image="/9j/é"),
    "a photo of nothing": lambda c: c["walkdowns"][0]["photos"][0].update(check="beauty"),
}


@pytest.mark.parametrize("damage", DAMAGED)
def test_a_damaged_file_is_refused_with_advice(tmp_path: Path, damage: str) -> None:
    content = deepcopy(route())
    DAMAGED[damage](content)
    with pytest.raises(FixableError) as caught:
        read_route(write(tmp_path, content))
    assert ADVICE in str(caught.value)
    assert "route.json" in str(caught.value)


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "null", "{}", "[" * 100_000, '{"a": NaN}', "é\x00"]
)
def test_what_is_no_such_file_is_refused_with_advice(tmp_path: Path, text: str) -> None:
    with pytest.raises(UnreadableFleetError) as caught:
        read_route(write(tmp_path, text))
    assert ADVICE in str(caught.value)


def test_every_cut_of_a_file_is_refused(tmp_path: Path) -> None:
    text = json.dumps(route())
    for end in range(0, len(text), 37):
        with pytest.raises(UnreadableFleetError):
            read_route(write(tmp_path, text[:end]))


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFleetError, match="there is no file"):
        read_route(tmp_path / "route.json")


@pytest.mark.parametrize("reason", NOT_SEEN_REASONS)
def test_every_reason_for_not_seeing_is_kept(tmp_path: Path, reason: str) -> None:
    content = route()
    content["walkdowns"][0]["answers"].append(answer("oil_level", reason=reason))
    one = read_route(write(tmp_path, content)).walkdowns[0]
    assert one.not_seen["oil_level"] == reason
    assert "oil_level" not in one.cells()


def test_the_same_walkdown_by_hand_reads_alike(tmp_path: Path) -> None:
    by_hand = WALKDOWNS + f"W-{1:020},0012,2026-05-02,periodic,0,plugged,\n"
    expected = good_place(write_fleet(tmp_path / "hand", walkdowns=by_hand)).fleet.walkdowns
    content = walkdown()
    content["answers"] = [one for one in content["answers"] if one["value"] and one["field"] in
                          ("kind", "inspected_on", "isolators_free", "breather")]  # fmt: skip
    content["recorded_at"] = ""
    fleet = write_fleet(tmp_path / "fleet", units=UNITS)
    found = good_place(fleet, write(tmp_path, route(content))).fleet.walkdowns
    columns = expected.columns.drop("row")
    assert found[columns].equals(expected[columns])


def test_commands_take_such_a_file_beside_a_fleet(tmp_path: Path) -> None:
    fleet = write_fleet(tmp_path / "fleet")
    path = write(tmp_path, route(walkdown(), walkdown(2, "12", finished=False)))
    done = CliRunner().invoke(cli, ["check", str(fleet), "--add", str(path)])
    assert done.exit_code == 0, done.output
    assert "not signed yet, so left out" in " ".join(done.output.split())
    lost = CliRunner().invoke(cli, ["check", str(fleet), "--add", str(tmp_path / "fleet.json")])
    assert getattr(lost.exception, "exit_code", 0) == 3
