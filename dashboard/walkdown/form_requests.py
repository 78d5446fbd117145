"""What the form sends while a walkdown is entered: answers, photos, and at the end a signature."""

from http import HTTPStatus
from typing import Any
from urllib.parse import urlencode

import pandas as pd
from starlette.responses import HTMLResponse, JSONResponse, Response

from dashboard.presenters.words import verdict_said
from dashboard.walkdown.answering import Asked
from dashboard.walkdown.draft_as_sent import answer_as_sent, draft_as_sent
from dashboard.walkdown.person import to_ask_who
from scoring.entering.answers import Answer, keep_answer
from scoring.entering.drafts import find_open_draft
from scoring.entering.judge_draft import judge_draft
from scoring.entering.people import set_measures
from scoring.entering.photos import encode_photo, find_photo, keep_photo, remove_photo
from scoring.entering.refusals import Fault, RefusedError
from scoring.entering.submit_draft import submit_draft
from scoring.entering.unit_verdict import UnitVerdict
from scoring.intake import check_fleet
from scoring.store.read_records import read_records
from scoring.walkdown_form.document import form_document
from scoring.walkdown_form.page.page import online_page

API = "/walkdown/api"


def form_page(asked: Asked) -> Response:
    """Serve the form of a draft, with what was answered so far."""
    with asked.store.reading() as connection:
        draft = draft_as_sent(connection, asked.path["draft_id"])
        tables = read_records(connection, asked.store.name, [draft["unit_id"]])
    if not asked.person:
        return to_ask_who(draft["draft_id"])
    units = check_fleet(tables, pd.Timestamp.today()).fleet.units
    form = form_document(units, [draft["unit_id"]])
    return HTMLResponse(online_page(form, {**draft, "person": asked.person}, API))


def tell_draft(asked: Asked) -> Response:
    """Tell what the store holds of a draft."""
    with asked.store.reading() as connection:
        return JSONResponse(draft_as_sent(connection, asked.path["draft_id"]))


def take_answer(asked: Asked) -> Response:
    """Keep an answer, or tell that somebody else has answered since."""
    field = asked.path["field"]
    base_revision = asked.json().get("base_revision", 0)
    if not isinstance(base_revision, int):
        raise RefusedError((Fault(field, "base_revision is a whole number"),))
    answer = Answer(field, asked.text("heading"), asked.text("value").strip(), asked.text("reason"))
    with asked.store.writing(asked.text("by")) as writing:
        asked.require_not_given_up()
        kept = keep_answer(
            writing,
            asked.path["draft_id"],
            answer,
            base_revision=base_revision,
            client=asked.text("client"),
        )
        if field == "units_of_measure" and answer.value and not kept.refused:
            set_measures(writing, answer.value)
    if kept.refused:
        return JSONResponse(answer_as_sent(kept.answer), HTTPStatus.CONFLICT)
    return JSONResponse({"revision": kept.answer.revision, "at": kept.answer.at})


def take_photo(asked: Asked) -> Response:
    """Check, re-encode and keep a photo."""
    photo = encode_photo(asked.body)
    with asked.store.writing(asked.query.get("by", "")) as writing:
        draft = find_open_draft(writing.connection, asked.path["draft_id"])
        photo_id = keep_photo(
            writing,
            draft.walkdown_id,
            asked.path["check"],
            photo,
            draft_id=draft.draft_id,
            unit_id=draft.unit_id,
        )
    return JSONResponse({"photo_id": photo_id})


def drop_photo(asked: Asked) -> Response:
    """Take a photo out of a draft."""
    with asked.store.writing(asked.query.get("by", "")) as writing:
        draft = find_open_draft(writing.connection, asked.path["draft_id"])
        remove_photo(writing, draft, asked.path["photo_id"])
    return JSONResponse({})


def show_photo(asked: Asked) -> Response:
    """Send a photo."""
    with asked.store.reading() as connection:
        jpeg = find_photo(connection, asked.path["photo_id"])
    return Response(jpeg, media_type="image/jpeg")


def tell_verdict(asked: Asked) -> Response:
    """Tell the verdict that the unit would have, were the draft submitted now."""
    try:
        judged = judge_draft(asked.store, asked.path["draft_id"])
    except RefusedError as error:
        faults = [{"field": fault.field, "words": fault.words} for fault in error.faults]
        return JSONResponse({**_verdict(UnitVerdict("")), "faults": faults})
    return JSONResponse({**_verdict(judged.verdict), "faults": []})


def take_signature(asked: Asked) -> Response:
    """Submit a draft, signed by name."""
    done = submit_draft(
        asked.store,
        asked.path["draft_id"],
        signed_by=asked.text("signed_by"),
        told=asked.text("told"),
        reason=asked.text("reason"),
    )
    return JSONResponse(
        {
            "walkdown_id": done.walkdown_id,
            "version": done.version,
            **_verdict(done.verdict),
            "unit_page": f"/unit?{urlencode({'unit': done.unit_id})}",
        }
    )


def _verdict(verdict: UnitVerdict) -> dict[str, Any]:
    return {
        "verdict": verdict.verdict,
        "verdict_words": verdict_said(verdict.verdict),
        "holds": [{"what": asked.what, "do": asked.do} for asked in verdict.holds],
        "corrects": [{"what": asked.what, "do": asked.do} for asked in verdict.corrects],
        "not_seen": [part for part in verdict.not_seen.split("; ") if part],
    }
