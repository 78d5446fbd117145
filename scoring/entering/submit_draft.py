"""From a draft to a signed walkdown, in one step that can be repeated without harm."""

from dataclasses import dataclass

from scoring.access.acts import Act
from scoring.access.allowed import require_written
from scoring.entering.answers import answers_of, reasons_of
from scoring.entering.drafts import SUBMITTED, Draft, find_draft, set_status, version_submitted
from scoring.entering.judge_draft import JudgedDraft, judge, read_draft
from scoring.entering.refusals import ClosedDraftError, Fault, RefusedError
from scoring.entering.releases import verdict_now
from scoring.entering.sign_offs import find_sign_off, keep_not_seen, keep_sign_off
from scoring.entering.unit_verdict import UnitVerdict
from scoring.store.open_store import Store
from scoring.store.put_records import put_record
from scoring.store.versions import last_change_of_unit
from scoring.store.whole_text import LONGEST_REASON, not_whole
from scoring.store.writing import Writing

TRIES = 2
"""How often a submission is checked beside other writers, before they wait for it."""

FIRST_ENTRY = "entered and signed"


@dataclass(frozen=True)
class Submitted:
    """A walkdown that was submitted.

    Attributes
    ----------
    walkdown_id, unit_id : str
        The walkdown and its unit.
    version : int
        Its version.
    verdict : UnitVerdict
        The verdict on the unit with it.
    """

    walkdown_id: str
    unit_id: str
    version: int
    verdict: UnitVerdict


def submit_draft(
    store: Store, draft_id: str, *, signed_by: str, told: str = "", reason: str = ""
) -> Submitted:
    """Submit a draft: a walkdown, or a new version of the one it corrects.

    Parameters
    ----------
    store : Store
        The store.
    draft_id : str
        The draft.
    signed_by : str
        Who signs it.
    told : str
        Who was told that the unit must not run, or that a correction lifts the hold; needed in
        both cases.
    reason : str
        Why a submitted walkdown is corrected; needed where it is.

    Returns
    -------
    Submitted

    Raises
    ------
    RefusedError
        If something is not allowed or missing.
    ClosedDraftError
        If the draft was discarded, or somebody else has signed it.
    ChangedMeanwhileError
        If the walkdown that it corrects has changed since.
    """
    for _ in range(TRIES):
        with store.reading() as connection:
            seen = read_draft(connection, store.name, draft_id)
        if not seen.draft.is_open:
            return _closed(store, seen.draft, signed_by)
        judged = judge(seen)
        _require(judged, told, reason)
        with store.writing(signed_by) as writing:
            version = _submit(writing, judged, told, reason)
        if version is not None:
            return _submitted(judged, version)
    with store.writing(signed_by) as writing:  # nothing can come in any more
        seen = read_draft(writing.connection, store.name, draft_id)
        if seen.draft.is_open:
            judged = judge(seen)
            _require(judged, told, reason)
            return _submitted(judged, _keep(writing, judged, told, reason))
    return _closed(store, seen.draft, signed_by)


def _require(judged: JudgedDraft, told: str, reason: str) -> None:
    texts = {"told": told, "reason": reason}
    wrong = {field: not_whole(text, LONGEST_REASON) for field, text in texts.items()}
    faults = [Fault(field, f"what was typed {words}") for field, words in wrong.items() if words]
    if judged.verdict.must_not_run and not told.strip():
        faults.append(Fault("told", "the unit must not run: write down who was told"))
    if judged.lifts_hold and not told.strip():
        faults.append(
            Fault("told", "the hold is lifted by this correction: write down who was told")
        )
    if judged.draft.corrects_version is not None and not reason.strip():
        faults.append(Fault("reason", "say why the walkdown that was submitted is corrected"))
    if faults:
        raise RefusedError(tuple(faults))


def _submit(writing: Writing, judged: JudgedDraft, told: str, reason: str) -> int | None:
    """Put the walkdown into the store; None where what it was judged by has changed since."""
    connection = writing.connection
    draft = find_draft(connection, judged.draft.draft_id)
    if (
        draft != judged.draft
        or answers_of(connection, draft.draft_id) != judged.answers
        or last_change_of_unit(connection, draft.unit_id) != judged.last_change
    ):
        return None
    return _keep(writing, judged, told, reason)


def _keep(writing: Writing, judged: JudgedDraft, told: str, reason: str) -> int:
    draft = judged.draft
    require_written(writing, Act.WALK, draft.unit_id)
    version = put_record(
        writing,
        "walkdowns",
        judged.walkdown.row,
        reason.strip() or FIRST_ENTRY,
        read_version=draft.corrects_version,
    )
    keep_not_seen(writing, draft.walkdown_id, reasons_of(judged.answers))
    keep_sign_off(
        writing,
        draft.walkdown_id,
        version,
        signed_by=writing.actor,
        signed_at=writing.at,
        verdict=judged.verdict.verdict,
        holds=[finding.what for finding in judged.verdict.holds],
        told=told.strip(),
    )
    set_status(writing, draft, SUBMITTED, version=version)
    return version


def _submitted(judged: JudgedDraft, version: int) -> Submitted:
    draft = judged.draft
    return Submitted(draft.walkdown_id, draft.unit_id, version, judged.verdict)


def _closed(store: Store, draft: Draft, signed_by: str) -> Submitted:
    """Say again what became of a draft, to the one who signed it."""
    if draft.status != SUBMITTED:
        raise ClosedDraftError(draft.status, f"this walkdown was {draft.status}; begin a new one")
    with store.reading() as connection:
        version = version_submitted(connection, draft.draft_id)
        signed = find_sign_off(connection, draft.walkdown_id, version)
    if signed is not None and signed.signed_by != " ".join(signed_by.split()):
        raise ClosedDraftError(
            SUBMITTED,
            f"{signed.signed_by} has signed this walkdown meanwhile; correct it on the unit's page",
        )
    verdict = verdict_now(store, draft.unit_id)
    return Submitted(draft.walkdown_id, draft.unit_id, version, verdict)
