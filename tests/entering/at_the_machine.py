"""What a person does at a machine, in as few words as a test needs."""

import time

from scoring.entering.answers import Answer, Kept, keep_answer
from scoring.entering.drafts import start_draft
from scoring.store.open_store import Store

UNIT = "SS-001"
"""A unit with a tapered bushing."""


def begin(store: Store, unit_id: str = UNIT, by: str = "Ben Meier") -> str:
    with store.writing(by) as writing:
        return start_draft(writing, unit_id)


def give(  # noqa: PLR0913 - an answer, who gives it, in which window, knowing what
    store: Store,
    draft_id: str,
    field: str,
    value: str,
    *,
    heading: str = "",
    reason: str = "",
    base: int = 0,
    client: str = "window 1",
    by: str = "Ben Meier",
) -> Kept:
    answer = Answer(field, heading or field, value, reason)
    with store.writing(by) as writing:
        return keep_answer(writing, draft_id, answer, base_revision=base, client=client)


def today() -> str:
    return time.strftime("%Y-%m-%d")


VISIT = {"kind": "periodic", "inspector": "Ben Meier"}
"""What every walkdown says of the visit, beside its day."""


def answer_visit(store: Store, draft_id: str, **more: str) -> None:
    """Answer what every walkdown says of the visit, and more, in one go."""
    with store.writing("Ben Meier") as writing:
        for field, value in {**VISIT, "inspected_on": today(), **more}.items():
            keep_answer(
                writing,
                draft_id,
                Answer(field, field, value),
                base_revision=0,
                client="window 1",
            )
