"""Drafts: walkdowns that are being entered."""

from dataclasses import dataclass

from sqlalchemy import Connection, insert, select, update

from scoring.access.acts import Act
from scoring.access.allowed import is_seen, require_at, require_own, require_written
from scoring.access.who_asks import Asker
from scoring.entering.new_keys import new_draft_id, new_key
from scoring.entering.refusals import ClosedDraftError
from scoring.store.schema import DRAFT_ANSWERS, DRAFTS, HISTORY, RECORDS
from scoring.store.store_errors import UnknownRecordError
from scoring.store.writing import Change, Writing

OPEN = "open"
SUBMITTED = "submitted"
DISCARDED = "discarded"


@dataclass(frozen=True)
class Draft:
    """A walkdown that is being entered.

    Attributes
    ----------
    draft_id : str
        Its name; who knows it may write in it.
    unit_id, walkdown_id : str
        The unit, and the key that the walkdown will have.
    status : str
        open, submitted or discarded.
    started_by, started_at, changed_at : str
        Who began it, and when; when it last changed. [UTC]
    corrects_version : int or None
        The version of a submitted walkdown that it corrects.
    """

    draft_id: str
    unit_id: str
    walkdown_id: str
    status: str
    started_by: str
    started_at: str
    changed_at: str
    corrects_version: int | None

    @property
    def is_open(self) -> bool:
        """Whether it can still be written in."""
        return self.status == OPEN


def start_draft(writing: Writing, unit_id: str, *, walkdown_id: str | None = None) -> str:
    """Begin a walkdown of a unit.

    Parameters
    ----------
    writing : Writing
        The transaction; its actor begins it.
    unit_id : str
        The unit.
    walkdown_id : str, optional
        The key that the walkdown will have; by default a new one.

    Returns
    -------
    str
        The name of the draft.

    Raises
    ------
    UnknownRecordError
        If the store has no such unit.
    """
    require_written(writing, Act.WALK, unit_id)
    units = RECORDS["units"]
    there = select(units.c.unit_id).where(units.c.unit_id == unit_id, ~units.c.withdrawn)
    if writing.connection.scalar(there) is None:
        raise UnknownRecordError(
            f"there is no unit {unit_id!r} in the store; ids are case-sensitive"
        )
    return add_draft(writing, unit_id, walkdown_id or new_key("walkdowns"), None)


def add_draft(
    writing: Writing, unit_id: str, walkdown_id: str, corrects_version: int | None
) -> str:
    """Put a new draft into the store, and return its name."""
    draft = {
        "draft_id": new_draft_id(),
        "unit_id": unit_id,
        "walkdown_id": walkdown_id,
        "status": OPEN,
        "started_by": writing.actor,
        "started_at": writing.at,
        "changed_at": writing.at,
        "corrects_version": corrects_version,
    }
    writing.connection.execute(insert(DRAFTS).values(draft))
    writing.note(
        [Change("drafts", str(draft["draft_id"]), "started", after=draft, unit_id=unit_id)]
    )
    return str(draft["draft_id"])


def find_draft(connection: Connection, draft_id: str) -> Draft:
    """Return a draft; with a login, to whom it belongs.

    Raises
    ------
    UnknownRecordError
        If there is none of that name.
    NotAllowedError
        If somebody else began it.
    """
    asker, draft = _draft_seen(connection, draft_id)
    require_own(asker, draft.started_by, f"the walkdown that was begun at {draft.unit_id}")
    return draft


def _draft_seen(connection: Connection, draft_id: str) -> tuple[Asker, Draft]:
    found = connection.execute(select(DRAFTS).where(DRAFTS.c.draft_id == draft_id)).one_or_none()
    unknown = "there is no such walkdown being entered; begin a new one"
    if found is None:
        raise UnknownRecordError(unknown)
    draft = Draft(*found)
    return require_at(connection, draft.unit_id, Act.WALK, unknown=unknown), draft


def find_open_draft(connection: Connection, draft_id: str) -> Draft:
    """Return a draft that can still be written in.

    Raises
    ------
    ClosedDraftError
        If it was submitted or discarded.
    """
    return _open(find_draft(connection, draft_id))


def _open(draft: Draft) -> Draft:
    if not draft.is_open:
        raise ClosedDraftError(
            draft.status,
            f"this walkdown was {draft.status} meanwhile; "
            + ("correct it on the unit's page" if draft.status == SUBMITTED else "begin a new one"),
        )
    return draft


def open_drafts(connection: Connection, unit_id: str | None = None) -> list[Draft]:
    """Return the drafts that can still be written in, last changed first."""
    query = (
        select(DRAFTS)
        .where(DRAFTS.c.status == OPEN, is_seen(DRAFTS.c.unit_id))
        .order_by(DRAFTS.c.changed_at.desc())
    )
    if unit_id is not None:
        query = query.where(DRAFTS.c.unit_id == unit_id)
    return [Draft(*row) for row in connection.execute(query)]


def set_status(writing: Writing, draft: Draft, status: str, *, version: int | None = None) -> None:
    """Close a draft; the history says which version of the walkdown it became."""
    writing.connection.execute(
        update(DRAFTS)
        .where(DRAFTS.c.draft_id == draft.draft_id)
        .values(status=status, changed_at=writing.at)
    )
    writing.note(
        [
            Change(
                "drafts",
                draft.draft_id,
                status,
                before={"status": draft.status},
                after={"status": status},
                unit_id=draft.unit_id,
                version=version,
            )
        ]
    )


def version_submitted(connection: Connection, draft_id: str) -> int:
    """Return which version of its walkdown a submitted draft became."""
    version = connection.scalar(
        select(HISTORY.c.version).where(
            HISTORY.c.about == "drafts", HISTORY.c.key == draft_id, HISTORY.c.change == SUBMITTED
        )
    )
    return int(version or 1)


def discard_draft(writing: Writing, draft_id: str) -> None:
    """Give up a draft; it stays in the store, and is offered to nobody."""
    asker, draft = _draft_seen(writing.connection, draft_id)
    own = draft.started_by == asker.name
    require_written(writing, Act.WALK if own else Act.GIVE_UP)
    set_status(writing, _open(draft), DISCARDED)


def writers_of(connection: Connection, draft_id: str) -> list[str]:
    """Return who has answered in a draft."""
    column = DRAFT_ANSWERS.c.by
    return list(
        connection.scalars(
            select(column).where(DRAFT_ANSWERS.c.draft_id == draft_id).distinct().order_by(column)
        )
    )
