"""An answer whose sender has given up waiting is not kept after a newer one."""

import json

import pytest
from at_the_machine import begin, give

from dashboard.walkdown.answering import LONGEST_WAIT_S, FormRequest
from dashboard.walkdown.form_requests import take_answer
from scoring.entering.answers import answers_of
from scoring.store.store_errors import BusyStoreError


def test_an_answer_that_waited_too_long_is_refused_and_may_be_sent_again(sqlite_store, monkeypatch):
    draft_id = begin(sqlite_store)
    first = {"heading": "guard", "value": "fitted", "by": "Ben Meier", "client": "window 1"}
    asked = FormRequest(
        sqlite_store, {"draft_id": draft_id, "field": "guard"}, {}, json.dumps(first).encode()
    )
    give(sqlite_store, draft_id, "guard", "missing")  # what the person said after that
    monkeypatch.setattr("time.monotonic", lambda: asked.at + LONGEST_WAIT_S + 1)
    with pytest.raises(BusyStoreError, match="send it again"):
        take_answer(asked)
    with sqlite_store.reading() as connection:
        assert answers_of(connection, draft_id)["guard"].answer.value == "missing"
