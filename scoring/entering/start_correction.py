"""Begin a new version of a walkdown that was submitted, with what the last one says."""

from collections.abc import Mapping

from sqlalchemy import insert, select

from scoring.access.acts import Act
from scoring.access.allowed import require_written
from scoring.contract import CHECK_BY_NAME, WALKDOWNS, Seen
from scoring.entering.answers import ABOUT_THE_VISIT, DETAIL_NAMES
from scoring.entering.drafts import add_draft
from scoring.entering.sign_offs import not_seen_of
from scoring.files.records_as_text import text_cells
from scoring.store.schema import DRAFT_ANSWERS, RECORDS
from scoring.store.store_errors import UnknownRecordError
from scoring.store.writing import Change, Writing


def start_correction(writing: Writing, walkdown_id: str) -> str:
    """Begin a new version of a submitted walkdown, with what the last one says.

    Parameters
    ----------
    writing : Writing
        The transaction; its actor begins it.
    walkdown_id : str
        The walkdown.

    Returns
    -------
    str
        The name of the draft.

    Raises
    ------
    UnknownRecordError
        If there is no such walkdown.
    """
    sql = RECORDS["walkdowns"]
    row = writing.connection.execute(
        select(sql).where(sql.c.walkdown_id == walkdown_id, ~sql.c.withdrawn)
    ).one_or_none()
    unknown = f"there is no walkdown {walkdown_id!r} in the store"
    if row is None:
        raise UnknownRecordError(unknown)
    require_written(writing, Act.WALK, row.unit_id, unknown=unknown)
    draft_id = add_draft(writing, row.unit_id, walkdown_id, row.version)
    said = {
        column.name: text_cells([getattr(row, column.name)], column)[0].as_py()
        for column in WALKDOWNS.columns
        if column.name in CHECK_BY_NAME or column.name in (*DETAIL_NAMES, *ABOUT_THE_VISIT)
    }
    reasons = not_seen_of(writing.connection, walkdown_id)
    said |= {"machine_state": _state_of({*reasons, *(n for n, value in said.items() if value)})}
    answers = [
        {
            "draft_id": draft_id,
            "field": field,
            "heading": field,
            "value": value,
            "reason": "" if value else reasons.get(field, ""),
            "revision": 1,
            "by": writing.actor,
            "at": writing.at,
            "client": "",
        }
        for field, value in said.items()
        if value or field in reasons
    ]
    writing.connection.execute(insert(DRAFT_ANSWERS), answers)
    writing.note([_taken_over(answer, row.unit_id) for answer in answers])
    return draft_id


def _taken_over(answer: Mapping[str, object], unit_id: str) -> Change:
    kept = ("field", "heading", "value", "reason")
    return Change(
        "draft_answers",
        f"{answer['draft_id']}/{answer['field']}",
        "taken over",
        after={name: answer[name] for name in kept},
        unit_id=unit_id,
        version=1,
    )


def _state_of(fields: set[str]) -> str:
    """Return the state in which what was seen can be seen; the records do not keep it."""
    seen = {CHECK_BY_NAME[field].seen for field in fields if field in CHECK_BY_NAME}
    if Seen.HANGING in seen:
        return "hanging"
    return "running" if seen == {Seen.RUNNING} else "stopped"
