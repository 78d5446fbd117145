"""What others signed since a moment, each with the verdict that was signed at the unit before."""

from at_the_machine import answer_visit, begin
from kept_sign_offs import sign_offs_of_unit
from sqlalchemy import select

from scoring.entering.signed_lately import signed_by_others
from scoring.entering.submit_draft import submit_draft
from scoring.store.schema import SIGN_OFFS

LONG_AGO = "2000-01-01T00:00:00+00:00"


def sign(store, unit_id, by, told="", **found):
    draft_id = begin(store, unit_id, by=by)
    answer_visit(store, draft_id, **found)
    return submit_draft(store, draft_id, signed_by=by, told=told)


def test_each_signature_has_the_verdict_signed_before_it_and_ones_own_is_left_out(store, unit):
    sign(store, unit, "Ben Meier", told="the foreman", guard="missing")
    sign(store, unit, "Cleo Roth", guard="fitted")
    with store.reading() as connection:
        lately = signed_by_others(connection, LONG_AGO, "Dora Finn")
        here = [one for one in lately if one.unit_id == unit]
        of_others = signed_by_others(connection, LONG_AGO, "Cleo Roth")
        last = max(connection.scalars(select(SIGN_OFFS.c.signed_at)))
        assert signed_by_others(connection, last, "Dora Finn") == []
        kept = sign_offs_of_unit(connection, unit)
    assert [one.by for one in here] == ["Cleo Roth", "Ben Meier"]
    assert here[0].before == here[1].verdict == "hold"
    assert here[1].before == ""
    assert here[0].verdict != "hold"
    assert "Cleo Roth" not in {one.by for one in of_others}
    assert {one.at for one in here} == {one.signed_at for one in kept}
    assert [one.at for one in lately] == sorted((one.at for one in lately), reverse=True)
