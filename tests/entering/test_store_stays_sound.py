"""Whatever is entered, changed or taken back leaves a store whose history tells all of it."""

from at_the_machine import UNIT, answer_visit, begin, give, today

from scoring.entering.drafts import discard_draft
from scoring.entering.enter_record import enter_record, withdraw
from scoring.entering.releases import release_to_start
from scoring.entering.start_correction import start_correction
from scoring.entering.submit_draft import submit_draft
from scoring.store.integrity import check_store


def test_a_store_is_sound_after_everything_that_can_be_entered(store):
    draft_id = begin(store)
    answer_visit(store, draft_id, guard="missing", notes="Müller’s „Brecher“\n🪨 =1+1")
    give(store, draft_id, "breather", "", reason="no_access")
    first = submit_draft(store, draft_id, signed_by="Ben Meier", told="Foreman")
    with store.writing("Cleo Roth") as writing:
        correction = start_correction(writing, first.walkdown_id)
        discard_draft(writing, start_correction(writing, first.walkdown_id))
    give(store, correction, "notes", "", base=1)
    give(store, correction, "smallest_clearance_mm", "15/16", heading="smallest_clearance_in")
    submit_draft(store, correction, signed_by="Cleo Roth", told="Foreman", reason="mended")
    rework = {"unit_id": UNIT, "done_on": today(), "actions": "fit_guard;open_breather"}
    cured = enter_record(store, "rework", rework, actor="Cleo Roth")
    again = {**rework, "rework_id": cured.key, "hours": "0.1"}
    enter_record(store, "rework", again, actor="Cleo Roth", read_version=1)
    extra = enter_record(store, "rework", rework, actor="Cleo Roth")
    withdraw(store, "rework", extra.key, actor="Dora Hain", reason="entered twice")
    release_to_start(store, UNIT, released_by="Dora Hain", reason="guard fitted")
    withdraw(store, "walkdowns", first.walkdown_id, actor="Dora Hain", reason="another unit")
    with store.reading() as connection:
        assert check_store(connection).faults == []
