"""What a draft would say, and the verdict on its unit, were it submitted now."""

import threading
from dataclasses import dataclass

import pandas as pd
from sqlalchemy import Connection

from scoring.entering.answers import KeptAnswer, answers_of, cells_of
from scoring.entering.check_record import CheckedRecord, check_record
from scoring.entering.drafts import Draft, find_draft
from scoring.entering.unit_verdict import UnitVerdict, verdict_of_unit
from scoring.intake import RawTable, check_fleet
from scoring.store.open_store import Store
from scoring.store.read_records import read_records
from scoring.store.versions import last_change_of_unit

_ONE_AT_A_TIME = threading.Lock()
"""Two judged at once in one process take as long as one after the other, and every answer that
comes in meanwhile has to wait for both."""


@dataclass(frozen=True)
class JudgedDraft:
    """What a draft would say, were it submitted now.

    Attributes
    ----------
    draft : Draft
        The draft.
    answers : dict of str to KeptAnswer
        Its answers.
    walkdown : CheckedRecord
        The walkdown, and the records of its unit with it.
    verdict : UnitVerdict
        The verdict on the unit with it.
    lifts_hold : bool
        Whether the unit must not run as it stands, and may by this correction.
    last_change : int
        The last change to a record of the unit that was seen.
    """

    draft: Draft
    answers: dict[str, KeptAnswer]
    walkdown: CheckedRecord
    verdict: UnitVerdict
    lifts_hold: bool
    last_change: int


@dataclass(frozen=True)
class SeenDraft:
    """A draft, and what it is judged beside, at one moment.

    Attributes
    ----------
    draft : Draft
        The draft.
    answers : dict of str to KeptAnswer
        Its answers.
    tables : dict of str to RawTable
        The records of its unit.
    last_change : int
        The last change to one of these.
    """

    draft: Draft
    answers: dict[str, KeptAnswer]
    tables: dict[str, RawTable]
    last_change: int


def read_draft(connection: Connection, source: str, draft_id: str) -> SeenDraft:
    """Read a draft and what it is judged beside; ``source`` is what messages call the store."""
    draft = find_draft(connection, draft_id)
    return SeenDraft(
        draft,
        answers_of(connection, draft_id),
        read_records(connection, source, [draft.unit_id]),
        last_change_of_unit(connection, draft.unit_id),
    )


def judge(seen: SeenDraft) -> JudgedDraft:
    """Judge a draft that was read.

    Raises
    ------
    RefusedError
        If something entered is not allowed, with every fault.
    """
    with _ONE_AT_A_TIME:
        return _judge_alone(seen)


def _judge_alone(seen: SeenDraft) -> JudgedDraft:
    draft = seen.draft
    cells = {
        **cells_of(seen.answers),
        "walkdown_id": draft.walkdown_id,
        "unit_id": draft.unit_id,
        "recorded_at": _first_recorded(seen),
    }
    entered = check_record(seen.tables, "walkdowns", cells)
    day = max(pd.Timestamp.today().normalize(), pd.Timestamp(str(entered.row["inspected_on"])))
    verdict = verdict_of_unit(entered.fleet, draft.unit_id, day.normalize())
    lifts_hold = (
        draft.corrects_version is not None
        and not verdict.must_not_run
        and _stands(seen, day.normalize()).must_not_run
    )
    return JudgedDraft(draft, seen.answers, entered, verdict, lifts_hold, seen.last_change)


def _stands(seen: SeenDraft, day: pd.Timestamp) -> UnitVerdict:
    """Judge the unit as it stands without the draft."""
    fleet = check_fleet(seen.tables, pd.Timestamp.today()).fleet
    return verdict_of_unit(fleet, seen.draft.unit_id, day)


def _first_recorded(seen: SeenDraft) -> str:
    """Return when a walkdown was first written down: what it corrects was known from then on."""
    if seen.draft.corrects_version is None:
        return pd.Timestamp.now().strftime("%Y-%m-%dT%H:%M:%S")
    walkdowns = seen.tables["walkdowns"]
    keys = walkdowns.column("walkdown_id")
    at = keys.index(seen.draft.walkdown_id) if seen.draft.walkdown_id in keys else None
    return "" if at is None else walkdowns.column("recorded_at")[at]


def judge_draft(store: Store, draft_id: str) -> JudgedDraft:
    """Check what a draft would say, and judge its unit with it.

    Parameters
    ----------
    store : Store
        The store.
    draft_id : str
        The draft.

    Returns
    -------
    JudgedDraft

    Raises
    ------
    RefusedError
        If something entered is not allowed, with every fault.
    """
    with store.reading() as connection:
        return judge(read_draft(connection, store.name, draft_id))
