"""Whose hands the device is in: asked once on each device, and kept in a cookie."""

from http import HTTPStatus
from urllib.parse import quote, urlencode

from starlette.responses import HTMLResponse, RedirectResponse, Response

from dashboard.person_cookie import PERSON
from dashboard.walkdown.answering import FormRequest
from dashboard.walkdown.templates import render
from scoring.access.who_asks import who_asks
from scoring.entering.people import known_people

KEPT_S = 366 * 24 * 3600
"""How long a device keeps the name. [s]"""

TODAY = "today"
"""Where one goes back to from being asked, that is no draft."""


def remember(response: Response, name: str) -> Response:
    """Have the device keep a name; where somebody is signed in it need not."""
    kept = " ".join(name.split())
    if kept and not who_asks().is_signed_in:
        response.set_cookie(PERSON, quote(kept), max_age=KEPT_S, samesite="lax")
    return response


def ask_who(request: FormRequest) -> Response:
    """Ask who holds the device, before it shows a walkdown."""
    with request.store.reading() as connection:
        people = known_people(connection)
    return HTMLResponse(render("who.html", to=request.query.get("to", ""), people=people))


def take_who(request: FormRequest) -> Response:
    """Keep who holds the device, and go on to where they wanted to."""
    sent = request.fields()
    draft_id, name = sent.get("to", ""), sent.get("by", "")
    if not name.strip():
        return to_ask_who(draft_id)
    to = f"/walkdown/{quote(draft_id, safe='')}" if draft_id else "/walkdown"
    if draft_id == TODAY:
        to = "/today"
    return remember(RedirectResponse(to, HTTPStatus.SEE_OTHER), name)


def to_ask_who(draft_id: str) -> Response:
    """Go to where it is asked who holds the device, and from there to a draft."""
    return RedirectResponse(f"/walkdown/who?{urlencode({'to': draft_id})}", HTTPStatus.SEE_OTHER)
