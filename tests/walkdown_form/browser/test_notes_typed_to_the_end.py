"""What is typed at the end of the walk is signed with it, whatever a browser tells of it."""

from pathlib import Path

import pytest
from phone import Phone, walkdowns_in

pytestmark = pytest.mark.browser


def test_notes_are_signed_whose_field_told_of_no_change(phone: Phone, form, tmp_path: Path):
    unit_id = form["units"][0]["unit_id"]
    phone.begin(unit_id, "stopped")
    phone.tap("reason=no_access")
    phone.go(f"#/{unit_id}/end")
    # Firefox tells of no change of a field that was drawn anew under who types in it
    phone.find("notes").evaluate(
        "(one) => { one.value = 'rubber new'; one.dispatchEvent(new Event('input')); }"
    )
    phone.tap("sign")
    assert phone.title == "Signed"
    phone.wait_until_saved()
    phone.tap("to-route")
    answers = walkdowns_in(phone.copy(tmp_path))[unit_id]["answers"]
    assert [one["value"] for one in answers if one["field"] == "notes"] == ["rubber new"]
