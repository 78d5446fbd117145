"""Enter re-work, failures, accepted findings and releases to start, at one unit."""

from dataclasses import dataclass
from http import HTTPStatus

import pandas as pd
from sqlalchemy import select
from starlette.responses import HTMLResponse, Response

from dashboard.presenters.clock_words import clock_words
from dashboard.presenters.words import verdict_shown
from dashboard.walkdown.answering import FormRequest
from dashboard.walkdown.person import remember
from dashboard.walkdown.record_fields import TABLES, TITLES, UnitAtHand, fields_of
from dashboard.walkdown.templates import render
from scoring.access.allowed import require_at
from scoring.access.who_asks import who_asks
from scoring.contract.cautions import CAUTIONS
from scoring.contract.events import MODE_WORDS
from scoring.contract.rework import ACTION_BY_NAME
from scoring.entering.enter_record import enter_record
from scoring.entering.new_keys import new_key
from scoring.entering.people import known_people
from scoring.entering.refusals import RefusedError
from scoring.entering.releases import release_to_start, verdict_now
from scoring.entering.unit_verdict import UnitVerdict
from scoring.store.clock_followed import latest_if_ahead
from scoring.store.schema import RECORDS
from scoring.store.store_errors import UnknownRecordError


def begin_record(request: FormRequest) -> Response:
    """Show the empty fields of a record."""
    table = _table(request)
    unit_id = request.query.get("unit", "")
    return _form(request, table, unit_id, _Typed(new_key(table), {}, {}))


def take_record(request: FormRequest) -> Response:
    """Check a record and keep it; a fault is shown beside its field, and nothing typed is lost."""
    table = _table(request)
    typed = {name: ";".join(values) for name, values in request.lists(blank=True).items()}
    unit_id, key, person = (typed.pop(name, "") for name in ("unit", "key", "by"))
    names = {column.name for column in TABLES[table].columns}
    cells = {name: value for name, value in typed.items() if name in names}
    full = {**cells, "unit_id": unit_id, TABLES[table].key: key}
    if "recorded_at" in names:
        full["recorded_at"] = pd.Timestamp.now().strftime("%Y-%m-%dT%H:%M:%S")
    try:
        enter_record(request.store, table, full, actor=person)
    except RefusedError as error:
        faults = {fault.field: fault.words for fault in error.faults}
        return _form(request, table, unit_id, _Typed(key, {**typed, "by": person}, faults))
    return remember(_done(request, unit_id, TITLES[table], _place(table, unit_id)), person)


def begin_release(request: FormRequest) -> Response:
    """Show the verdict of now, and ask for a signature where nothing holds the unit."""
    return _release_form(request, request.query.get("unit", ""), {}, "")


def take_release(request: FormRequest) -> Response:
    """Keep a release to start, signed by name."""
    sent = request.fields()
    unit_id = sent.get("unit", "")
    try:
        release_to_start(
            request.store, unit_id, released_by=sent.get("by", ""), reason=sent.get("reason", "")
        )
    except RefusedError as error:
        return _release_form(request, unit_id, sent, str(error))
    return remember(_done(request, unit_id, "Release to start", ""), sent.get("by", ""))


def _place(table: str, unit_id: str) -> str:
    """Return where a browser keeps what is typed: of who is signed in, their own."""
    return f"/enter/{table} {unit_id} {who_asks().name}".rstrip()


def _table(request: FormRequest) -> str:
    table = request.path["table"]
    if table not in TABLES:
        raise UnknownRecordError(f"{table} is not entered by hand; one of {', '.join(TABLES)}")
    return table


@dataclass(frozen=True)
class _Typed:
    """A record so far: its key, its cells, and what is wrong with them."""

    key: str
    cells: dict[str, str]
    faults: dict[str, str]


def _form(request: FormRequest, table: str, unit_id: str, typed: _Typed) -> Response:
    mounting = _mounting(request, unit_id)
    verdict = verdict_now(request.store, unit_id)
    person = typed.cells.get("by", request.person)
    unit = UnitAtHand(
        mounting,
        {one.check: one.what for one in (*verdict.holds, *verdict.corrects, *verdict.watched)},
        _cured_by(verdict),
        _events(request, unit_id) if table == "rework" else {},
        pd.Timestamp.today().strftime("%Y-%m-%d"),
        person,
        who_asks().is_signed_in,
    )
    fields = fields_of(TABLES[table], unit, typed.cells, typed.faults)
    shown = {field.name for field in fields}
    with request.store.reading() as connection:
        people = known_people(connection)
    page = render(
        "record.html",
        title=TITLES[table],
        action=f"/enter/{table}",
        keep=_place(table, unit_id),
        unit_id=unit_id,
        key=typed.key,
        fields=fields,
        fault="; ".join(words for name, words in typed.faults.items() if name not in shown),
        by=person,
        people=people,
        cautions=CAUTIONS,
    )
    return HTMLResponse(page, HTTPStatus.UNPROCESSABLE_ENTITY if typed.faults else HTTPStatus.OK)


def _release_form(
    request: FormRequest, unit_id: str, typed: dict[str, str], fault: str
) -> Response:
    _mounting(request, unit_id)
    verdict = verdict_now(request.store, unit_id)
    with request.store.reading() as connection:
        people = known_people(connection)
    page = render(
        "release.html",
        unit_id=unit_id,
        verdict=verdict_shown(verdict.verdict),
        holds=verdict.holds,
        by=typed.get("by", request.person),
        reason=typed.get("reason", ""),
        fault=fault,
        people=people,
        cautions=CAUTIONS,
    )
    return HTMLResponse(page, HTTPStatus.UNPROCESSABLE_ENTITY if fault else HTTPStatus.OK)


def _done(request: FormRequest, unit_id: str, what: str, keep: str) -> Response:
    verdict = verdict_now(request.store, unit_id)
    with request.store.reading() as connection:
        latest = latest_if_ahead(connection)
    page = render(
        "kept.html",
        what=what,
        keep=keep,
        unit_id=unit_id,
        verdict=verdict_shown(verdict.verdict),
        holds=verdict.holds,
        clock=clock_words(latest),
        cautions=CAUTIONS,
    )
    return HTMLResponse(page)


def _mounting(request: FormRequest, unit_id: str) -> str:
    units = RECORDS["units"].c
    with request.store.reading() as connection:
        require_at(connection, unit_id)
        found = connection.scalar(
            select(units.mounting).where(units.unit_id == unit_id, ~units.withdrawn)
        )
    if found is None:
        raise UnknownRecordError(
            f"there is no unit {unit_id!r} in the store; ids are case-sensitive"
        )
    return str(found)


def _cured_by(verdict: UnitVerdict) -> dict[str, str]:
    cured: dict[str, list[str]] = {}
    for one in (*verdict.holds, *verdict.corrects):
        for name in one.cures:
            cured.setdefault(name, []).append(one.what)
    return {name: ", ".join(cured[name]) for name in ACTION_BY_NAME if name in cured}


def _events(request: FormRequest, unit_id: str) -> dict[str, str]:
    events = RECORDS["events"].c
    with request.store.reading() as connection:
        rows = connection.execute(
            select(events.event_id, events.occurred_on, events.mode)
            .where(events.unit_id == unit_id, ~events.withdrawn)
            .order_by(events.occurred_on.desc())
        ).all()
    return {
        row.event_id: f"{MODE_WORDS.get(row.mode, row.mode.replace('_', ' '))}, "
        f"{row.occurred_on[:10]}"
        for row in rows
    }
