"""What the form sends while a walkdown is entered: answers, photos, and at the end a signature."""

from http import HTTPStatus
from typing import Any
from urllib.parse import urlencode

import pandas as pd
from starlette.responses import HTMLResponse, JSONResponse, Response

from dashboard import launch_settings
from dashboard.guard.answer_headers import POLICY
from dashboard.presenters.who_is_here import who_is_here
from dashboard.walkdown.answering import FormRequest
from dashboard.walkdown.draft_as_sent import answer_as_sent, draft_as_sent
from dashboard.walkdown.person import to_ask_who
from dashboard.walkdown.today import next_unit
from scoring.access.who_asks import who_asks
from scoring.contract.verdict_words import verdict_said
from scoring.entering.answers import Answer, keep_answer
from scoring.entering.drafts import find_open_draft
from scoring.entering.judge_draft import judge_draft
from scoring.entering.people import set_measures
from scoring.entering.photos import encode_photo, find_photo, keep_photo, remove_photo
from scoring.entering.refusals import Fault, RefusedError
from scoring.entering.submit_draft import submit_draft
from scoring.entering.unit_verdict import UnitVerdict
from scoring.intake import check_fleet
from scoring.language.tell import told
from scoring.store.read_records import read_records
from scoring.walkdown_form.document import form_document
from scoring.walkdown_form.page.page import online_page, policy_of_online_page

API = "/walkdown/api"


def form_page(request: FormRequest) -> Response:
    """Serve the form of a draft, with what was answered so far."""
    with request.store.reading() as connection:
        draft = draft_as_sent(connection, request.path["draft_id"])
        tables = read_records(connection, request.store.name, [draft["unit_id"]])
    if not request.person:
        return to_ask_who(draft["draft_id"])
    units = check_fleet(tables, pd.Timestamp.today()).fleet.units
    form = form_document(units, [draft["unit_id"]])
    asker = who_asks()
    who = who_is_here(asker, over_a_network=launch_settings.answers_to_a_network())
    here = {"person": request.person, "signed_in": asker.name, "who": told(who)}
    page = online_page(form, {**draft, **here}, API)
    return HTMLResponse(page, headers={POLICY: policy_of_online_page()})


def tell_draft(request: FormRequest) -> Response:
    """Tell what the store holds of a draft."""
    with request.store.reading() as connection:
        return JSONResponse(draft_as_sent(connection, request.path["draft_id"]))


def take_answer(request: FormRequest) -> Response:
    """Keep an answer, or tell that somebody else has answered since."""
    field = request.path["field"]
    base_revision = request.json().get("base_revision", 0)
    if not isinstance(base_revision, int):
        raise RefusedError((Fault(field, "base_revision is a whole number"),))
    answer = Answer(
        field, request.text("heading"), request.text("value").strip(), request.text("reason")
    )
    with request.store.writing(request.text("by")) as writing:
        request.require_not_given_up()
        kept = keep_answer(
            writing,
            request.path["draft_id"],
            answer,
            base_revision=base_revision,
            client=request.text("client"),
        )
        if field == "units_of_measure" and answer.value and not kept.refused:
            set_measures(writing, answer.value)
    if kept.refused:
        return JSONResponse(answer_as_sent(kept.answer), HTTPStatus.CONFLICT)
    return JSONResponse({"revision": kept.answer.revision, "at": kept.answer.at})


def take_photo(request: FormRequest) -> Response:
    """Check, re-encode and keep a photo."""
    with request.store.reading() as connection:  # before any work for who may not
        find_open_draft(connection, request.path["draft_id"])
    photo = encode_photo(request.body)
    with request.store.writing(request.query.get("by", "")) as writing:
        draft = find_open_draft(writing.connection, request.path["draft_id"])
        photo_id = keep_photo(
            writing,
            draft.walkdown_id,
            request.path["check"],
            photo,
            draft_id=draft.draft_id,
            unit_id=draft.unit_id,
        )
    return JSONResponse({"photo_id": photo_id})


def drop_photo(request: FormRequest) -> Response:
    """Take a photo out of a draft."""
    with request.store.writing(request.query.get("by", "")) as writing:
        draft = find_open_draft(writing.connection, request.path["draft_id"])
        remove_photo(writing, draft, request.path["photo_id"])
    return JSONResponse({})


def show_photo(request: FormRequest) -> Response:
    """Send a photo."""
    with request.store.reading() as connection:
        jpeg = find_photo(connection, request.path["photo_id"])
    return Response(jpeg, media_type="image/jpeg")


def tell_verdict(request: FormRequest) -> Response:
    """Tell the verdict that the unit would have, were the draft submitted now."""
    try:
        judged = judge_draft(request.store, request.path["draft_id"])
    except RefusedError as error:
        faults = [{"field": fault.field, "words": fault.words} for fault in error.faults]
        return JSONResponse({**_verdict(UnitVerdict("")), "faults": faults})
    return JSONResponse({**_verdict(judged.verdict), "lifts_hold": judged.lifts_hold, "faults": []})


def take_signature(request: FormRequest) -> Response:
    """Submit a draft, signed by name."""
    done = submit_draft(
        request.store,
        request.path["draft_id"],
        signed_by=request.text("signed_by"),
        told=request.text("told"),
        reason=request.text("reason"),
    )
    return JSONResponse(
        {
            "walkdown_id": done.walkdown_id,
            "version": done.version,
            **_verdict(done.verdict),
            "unit_page": f"/unit?{urlencode({'unit': done.unit_id})}",
            "sheet": f"/sheet/filled?{urlencode({'walkdown': done.walkdown_id})}",
            "next": next_unit(request, done.unit_id),
        }
    )


def _verdict(verdict: UnitVerdict) -> dict[str, Any]:
    return {
        "verdict": verdict.verdict,
        "verdict_words": verdict_said(verdict.verdict),
        "holds": [{"what": finding.what, "do": finding.do} for finding in verdict.holds],
        "corrects": [{"what": finding.what, "do": finding.do} for finding in verdict.corrects],
        "not_seen": [part for part in verdict.not_seen.split("; ") if part],
    }
