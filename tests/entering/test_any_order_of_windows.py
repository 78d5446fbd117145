"""Whatever windows write in whatever order, no answer is lost that its writer was not told of."""

from at_the_machine import begin, give
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)

from scoring.entering.answers import answers_of

WINDOWS = st.sampled_from(("one", "two", "three"))
FIELDS = st.sampled_from(("guard", "breather"))
VALUES = st.sampled_from(("a", "b", ""))


class Windows(RuleBasedStateMachine):
    """Three windows that answer, look and send again; the model knows what each has heard of."""

    store = None

    @initialize()
    def begin(self):
        self.draft_id = begin(self.store)
        self.heard = {}
        self.sent = {}
        self.stands = {}

    @rule(window=WINDOWS, field=FIELDS, value=VALUES, deaf=st.booleans())
    def answer(self, window, field, value, deaf):
        """Answer; a deaf window never hears what became of it, and goes on."""
        base = self.heard.get((window, field), 0)
        self.sent[window, field] = (value, base)
        self.send(window, field, value, base, deaf=deaf)

    @rule(window=WINDOWS, field=FIELDS)
    def send_again(self, window, field):
        """Send the last answer once more, as a browser does that heard nothing."""
        if (window, field) in self.sent:
            value, base = self.sent[window, field]
            self.send(window, field, value, base, deaf=False)

    @rule(window=WINDOWS)
    def look(self, window):
        with self.store.reading() as connection:
            kept = answers_of(connection, self.draft_id)
        for field, one in kept.items():
            self.heard[window, field] = one.revision

    def send(self, window, field, value, base, *, deaf):
        before = self.stands.get(field)
        kept = give(
            self.store, self.draft_id, field, value, base=base, client=window, by=f"Person {window}"
        )
        if kept.refused:
            assert before is not None
            assert kept.answer == before, "who is refused is told what stands"
        else:
            assert kept.answer.answer.value == value
            if before is not None and kept.answer != before:
                seen = before.revision == base or before.client == window
                assert seen, "what was overwritten had been seen, or was its own"
                assert kept.answer.revision == before.revision + 1
            self.stands[field] = kept.answer
        if not deaf:
            self.heard[window, field] = kept.answer.revision

    @invariant()
    def the_store_holds_what_was_said_to_be_kept(self):
        if not hasattr(self, "draft_id"):
            return
        with self.store.reading() as connection:
            assert answers_of(connection, self.draft_id) == self.stands


def test_no_answer_is_lost_that_its_writer_was_not_told_of(sqlite_store):
    Windows.store = sqlite_store
    quick = settings(
        max_examples=25,
        stateful_step_count=12,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    run_state_machine_as_test(Windows, settings=quick)
