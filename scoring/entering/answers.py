"""Answers in a draft: each is kept at once, and none overwrites another unseen."""

from dataclasses import asdict, dataclass, replace
from typing import Any

from sqlalchemy import Connection, insert, select, update

from scoring.access.acts import Act
from scoring.access.allowed import in_own_name, require_written
from scoring.contract import CHECK_BY_NAME
from scoring.contract.details import DETAILS
from scoring.contract.not_seen import NOT_SEEN_REASONS
from scoring.contract.quantities import alternative_names
from scoring.entering.drafts import find_open_draft
from scoring.entering.refusals import Fault, RefusedError
from scoring.store.schema import DRAFT_ANSWERS, DRAFTS
from scoring.store.whole_text import not_whole
from scoring.store.writing import Change, Writing

DETAIL_NAMES = tuple(detail.name for detail in DETAILS)
INSPECTOR = "inspector"
"""Who looked: with a login, who is signed in; a correction may leave whom it says."""

ABOUT_THE_VISIT = ("kind", "inspected_on", INSPECTOR, "notes")
ABOUT_THE_FORM = ("machine_state", "units_of_measure")
LONGEST_VALUE = 2000
LONGEST_CLIENT = 100


@dataclass(frozen=True)
class Answer:
    """One answer, as typed.

    Attributes
    ----------
    field : str
        A check, a detail of one, or what it says of the visit.
    heading : str
        The contract's column, or the same quantity in another unit.
    value : str
        Empty where nothing was answered, or the check was not seen.
    reason : str
        Why a check was not seen; empty where it was.
    """

    field: str
    heading: str
    value: str
    reason: str = ""


@dataclass(frozen=True)
class KeptAnswer:
    """An answer in the store.

    Attributes
    ----------
    answer : Answer
        What was answered.
    revision : int
        Counts from 1; a new answer to the same field counts on.
    by, at, client : str
        Who answered, when, and in which window.
    """

    answer: Answer
    revision: int
    by: str
    at: str
    client: str


@dataclass(frozen=True)
class Kept:
    """What became of an answer.

    Attributes
    ----------
    answer : KeptAnswer
        What the store holds now.
    refused : bool
        Whether somebody else had answered since, so that the new answer was not taken.
    """

    answer: KeptAnswer
    refused: bool = False


def keep_answer(
    writing: Writing, draft_id: str, answer: Answer, *, base_revision: int, client: str
) -> Kept:
    """Keep an answer, unless another one has come in that its writer has not seen.

    Parameters
    ----------
    writing : Writing
        The transaction.
    draft_id : str
        The draft.
    answer : Answer
        As typed.
    base_revision : int
        The revision of the field that the writer saw; 0 for none.
    client : str
        Names the window in which it was typed.

    Returns
    -------
    Kept

    Raises
    ------
    RefusedError
        If there is no such field, heading or reason.
    ClosedDraftError
        If the draft was closed.
    """
    check_answer(answer)
    wrong = not_whole(client, LONGEST_CLIENT)
    if wrong:
        raise RefusedError((Fault(answer.field, f"the name of the window {wrong}"),))
    draft = find_open_draft(writing.connection, draft_id)
    asker = require_written(writing, Act.WALK)
    there = _find(writing.connection, draft_id, answer.field)
    if answer.field == INSPECTOR and not (there is not None and answer == there.answer):
        answer = replace(answer, value=in_own_name(asker, answer.value))
    if there is not None:
        if there.answer == answer:
            return Kept(there)
        if there.revision != base_revision and there.client != client:
            return Kept(there, refused=True)
    kept = KeptAnswer(
        answer, 1 if there is None else there.revision + 1, writing.actor, writing.at, client
    )
    row = {
        "draft_id": draft_id,
        **asdict(answer),
        "revision": kept.revision,
        "by": kept.by,
        "at": kept.at,
        "client": client,
    }
    if there is None:
        writing.connection.execute(insert(DRAFT_ANSWERS).values(row))
    else:
        writing.connection.execute(
            update(DRAFT_ANSWERS)
            .where(DRAFT_ANSWERS.c.draft_id == draft_id, DRAFT_ANSWERS.c.field == answer.field)
            .values(row)
        )
    writing.connection.execute(
        update(DRAFTS).where(DRAFTS.c.draft_id == draft_id).values(changed_at=writing.at)
    )
    writing.note(
        [
            Change(
                "draft_answers",
                f"{draft_id}/{answer.field}",
                "added" if there is None else "changed",
                before=None if there is None else asdict(there.answer),
                after=asdict(answer),
                unit_id=draft.unit_id,
                version=kept.revision,
            )
        ]
    )
    return Kept(kept)


def answers_of(connection: Connection, draft_id: str) -> dict[str, KeptAnswer]:
    """Return what was answered in a draft, by field."""
    rows = connection.execute(select(DRAFT_ANSWERS).where(DRAFT_ANSWERS.c.draft_id == draft_id))
    return {row.field: _kept(row) for row in rows}


def cells_of(answers: dict[str, KeptAnswer]) -> dict[str, str]:
    """Return answers as the cells of a walkdown, by heading."""
    return {
        kept.answer.heading: kept.answer.value
        for field, kept in answers.items()
        if field not in ABOUT_THE_FORM and kept.answer.value
    }


def reasons_of(answers: dict[str, KeptAnswer]) -> dict[str, str]:
    """Return why checks were not seen, by check."""
    return {field: kept.answer.reason for field, kept in answers.items() if kept.answer.reason}


def check_answer(answer: Answer) -> None:
    """Refuse an answer to what is not asked; submission tells whether its value is allowed.

    Raises
    ------
    RefusedError
        With what would be right.

    Examples
    --------
    >>> check_answer(Answer("collar_gap_mm", "collar_gap_in", "1/16"))
    """
    field, reason = answer.field, answer.reason
    headings = {field, *(alternative_names(field) if field in CHECK_BY_NAME else ())}
    known = field in CHECK_BY_NAME or field in (*DETAIL_NAMES, *ABOUT_THE_VISIT, *ABOUT_THE_FORM)
    if not known or answer.heading not in headings:
        raise RefusedError((Fault(field, f"{field} under {answer.heading} is not asked"),))
    if reason and (field not in CHECK_BY_NAME or reason not in NOT_SEEN_REASONS):
        allowed = ", ".join(NOT_SEEN_REASONS)
        raise RefusedError((Fault(field, f"not seen because of {reason!r}; one of {allowed}"),))
    if reason and answer.value:
        raise RefusedError((Fault(field, "a check is seen or not seen, never both"),))
    wrong = not_whole(answer.value, LONGEST_VALUE)
    if wrong:
        raise RefusedError((Fault(field, f"what was typed {wrong}"),))


def _find(connection: Connection, draft_id: str, field: str) -> KeptAnswer | None:
    row = connection.execute(
        select(DRAFT_ANSWERS).where(
            DRAFT_ANSWERS.c.draft_id == draft_id, DRAFT_ANSWERS.c.field == field
        )
    ).one_or_none()
    return None if row is None else _kept(row)


def _kept(row: Any) -> KeptAnswer:  # noqa: ANN401 - a row's columns are known to the database only
    answer = Answer(row.field, row.heading, row.value, row.reason)
    return KeptAnswer(answer, row.revision, row.by, row.at, row.client)
