"""Choose a unit by site, line or search, or by the link on its label, and begin a walkdown."""

from datetime import datetime
from http import HTTPStatus
from typing import Any
from urllib.parse import quote, urlencode

from sqlalchemy import Connection, func, or_, select
from starlette.responses import HTMLResponse, RedirectResponse, Response

from dashboard.walkdown.answering import FormRequest
from dashboard.walkdown.person import remember
from dashboard.walkdown.templates import render
from scoring.access.acts import Act
from scoring.access.allowed import is_seen, require_at
from scoring.access.who_asks import who_asks
from scoring.contract.amounts_in_words import thousands
from scoring.contract.cautions import CAUTIONS
from scoring.entering.drafts import Draft, discard_draft, open_drafts, start_draft
from scoring.entering.people import known_people
from scoring.entering.start_correction import start_correction
from scoring.sheets.unit_code import unit_of_code
from scoring.store.schema import RECORDS
from scoring.store.store_errors import UnknownRecordError
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

MOST_WORDS = 10
"""Of a search; a database takes no condition of any depth."""

SHOWN_UNITS = 40
SHOWN_DRAFTS = 8
"""How many a phone shows at once."""


def which_unit(request: FormRequest) -> Response:
    """Show units to choose from."""
    search, site = request.query.get("search", ""), request.query.get("site", "")
    coded = unit_of_code(search)
    if coded is not None:  # read by a phone from a sheet or a label
        return RedirectResponse(f"/walkdown/new?{urlencode({'unit': coded})}", HTTPStatus.SEE_OTHER)
    units = RECORDS["units"].c
    query = select(units.unit_id, units.site, units.line, units.driven_equipment).where(
        ~units.withdrawn, units.out_of_service_on.is_(None), is_seen(units.unit_id)
    )
    for word in search.split()[:MOST_WORDS]:
        named = (units.unit_id, units.site, units.line, units.driven_equipment)
        query = query.where(or_(*(column.icontains(word, autoescape=True) for column in named)))
    if site:
        query = query.where(units.site == site)
    every_site = select(units.site).where(is_seen(units.unit_id)).distinct()
    with request.store.reading() as connection:
        found = connection.scalar(select(func.count()).select_from(query.subquery())) or 0
        rows = connection.execute(query.order_by(units.unit_id).limit(SHOWN_UNITS)).all()
        sites = connection.scalars(every_site.order_by(units.site)).all()
        drafts = open_drafts(connection)[:SHOWN_DRAFTS]
    return HTMLResponse(
        render(
            "which_unit.html",
            search=search,
            site=site,
            sites=sites,
            found=found,
            found_said=thousands(found),
            units=[
                {
                    "unit_id": row.unit_id,
                    "where": _where(row),
                    "query": urlencode({"unit": row.unit_id}),
                }
                for row in rows
            ],
            drafts=[_shown(draft) for draft in drafts],
        )
    )


def before_it_begins(request: FormRequest) -> Response:
    """Show a unit, what was begun on it already, and ask who begins."""
    walkdown_id = request.query.get("correct", "")
    with request.store.reading() as connection:
        correcting = _walkdown(connection, walkdown_id) if walkdown_id else None
        unit_id = request.query.get("unit", "") if correcting is None else correcting.unit_id
        unit = _unit(connection, unit_id)
        drafts = open_drafts(connection, unit_id)
        people = known_people(connection)
    return HTMLResponse(
        render(
            "begin.html",
            unit_id=unit.unit_id,
            where=_where(unit),
            mounting=MOUNTING_WORDS[unit.mounting],
            drafts=[_shown(draft) for draft in drafts],
            people=people,
            by=request.person,
            may_give_up=who_asks().may(Act.GIVE_UP),
            correcting=None
            if correcting is None
            else {
                "walkdown_id": walkdown_id,
                "day": correcting.inspected_on[:10],
                "version": correcting.version,
            },
            cautions=CAUTIONS,
        )
    )


def begin(request: FormRequest) -> Response:
    """Begin a walkdown, or the correction of one, and go to its form."""
    sent = request.fields()
    with request.store.writing(sent.get("by", "")) as writing:
        if sent.get("correct"):
            draft_id = start_correction(writing, sent["correct"])
        else:
            draft_id = start_draft(writing, sent.get("unit", ""))
    to_form = RedirectResponse(f"/walkdown/{quote(draft_id)}", HTTPStatus.SEE_OTHER)
    return remember(to_form, sent.get("by", ""))


def give_up(request: FormRequest) -> Response:
    """Give up a walkdown that was begun; what was answered stays in the history."""
    sent = request.fields()
    with request.store.writing(sent.get("by", "") or request.person) as writing:
        discard_draft(writing, sent.get("draft", ""))
    return RedirectResponse("/walkdown", HTTPStatus.SEE_OTHER)


def _unit(connection: Connection, unit_id: str) -> Any:  # noqa: ANN401 - a row of the database
    require_at(connection, unit_id, Act.WALK)
    units = RECORDS["units"].c
    found = connection.execute(
        select(units.unit_id, units.site, units.line, units.driven_equipment, units.mounting).where(
            units.unit_id == unit_id, ~units.withdrawn
        )
    ).one_or_none()
    if found is None:
        raise UnknownRecordError(
            f"there is no unit {unit_id!r} in the store; ids are case-sensitive"
        )
    return found


def _walkdown(connection: Connection, walkdown_id: str) -> Any:  # noqa: ANN401
    walkdowns = RECORDS["walkdowns"].c
    found = connection.execute(
        select(walkdowns.unit_id, walkdowns.inspected_on, walkdowns.version).where(
            walkdowns.walkdown_id == walkdown_id, ~walkdowns.withdrawn
        )
    ).one_or_none()
    unknown = f"there is no walkdown {walkdown_id!r} in the store"
    if found is None:
        raise UnknownRecordError(unknown)
    require_at(connection, found.unit_id, Act.WALK, unknown=unknown)
    return found


def _where(row: Any) -> str:  # noqa: ANN401
    return ", ".join(part for part in (row.site, row.line, row.driven_equipment) if part)


def _shown(draft: Draft) -> dict[str, object]:
    asker = who_asks()
    changed = datetime.fromisoformat(draft.changed_at).astimezone()
    return {
        "draft_id": draft.draft_id,
        "unit_id": draft.unit_id,
        "started_by": draft.started_by,
        "is_open_to_me": asker.name in {"", draft.started_by},
        "changed": changed.strftime("%Y-%m-%d %H:%M"),
    }
