"""A draft as the form is told of it."""

from typing import Any

from sqlalchemy import Connection

from scoring.entering.answers import KeptAnswer, answers_of
from scoring.entering.drafts import find_draft, open_drafts, writers_of
from scoring.entering.people import measures_of
from scoring.entering.photos import photos_of


def draft_as_sent(connection: Connection, draft_id: str) -> dict[str, Any]:
    """Return a draft with its answers and photos, and who else is at this unit.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    draft_id : str
        The draft.

    Returns
    -------
    dict
    """
    draft = find_draft(connection, draft_id)
    answers = answers_of(connection, draft_id)
    beside = [
        {"name": name, "since": draft.changed_at, "draft_id": draft_id, "same_draft": True}
        for name in writers_of(connection, draft_id)
    ]
    beside += [
        {
            "name": other.started_by,
            "since": other.changed_at,
            "draft_id": other.draft_id,
            "same_draft": False,
        }
        for other in open_drafts(connection, draft.unit_id)
        if other.draft_id != draft_id
    ]
    version = draft.corrects_version
    return {
        "draft_id": draft_id,
        "unit_id": draft.unit_id,
        "walkdown_id": draft.walkdown_id,
        "status": draft.status,
        "started_by": draft.started_by,
        "measures": measures_of(connection, draft.started_by),
        "answers": {field: answer_as_sent(kept) for field, kept in answers.items()},
        "photos": photos_of(connection, draft.walkdown_id, draft_id),
        "others": beside,
        "corrects": None
        if version is None
        else {"walkdown_id": draft.walkdown_id, "version": version},
    }


def answer_as_sent(kept: KeptAnswer) -> dict[str, Any]:
    """Return an answer as the form is told of it."""
    return {
        "heading": kept.answer.heading,
        "value": kept.answer.value,
        "reason": kept.answer.reason,
        "revision": kept.revision,
        "by": kept.by,
        "at": kept.at,
    }
