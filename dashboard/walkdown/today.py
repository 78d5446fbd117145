"""Today: what I began, what is due and why in walking order, and what changed since I was here."""

from datetime import UTC, datetime, timedelta
from typing import Any
from urllib.parse import parse_qs, quote, urlencode

import pandas as pd
from sqlalchemy import Connection
from starlette.responses import HTMLResponse, Response

from dashboard import launch_settings
from dashboard.presenters import due_words
from dashboard.presenters.about import plant_name
from dashboard.presenters.words import (
    day_said,
    verdict_shown,
)
from dashboard.walkdown import due_units
from dashboard.walkdown.answering import NO_STORE, FormRequest
from dashboard.walkdown.person import KEPT_S
from dashboard.walkdown.templates import render
from scoring.contract import CHECK_BY_NAME
from scoring.contract.cautions import CAUTIONS
from scoring.entering.answers import answers_of
from scoring.entering.drafts import Draft, open_drafts
from scoring.entering.people import known_people
from scoring.entering.signed_lately import Signed, signed_by_others, units_signed_since
from scoring.intake import check_fleet
from scoring.store.read_records import read_records
from scoring.walkdown_form.asked_checks import asked_checks
from scoring.walkdown_form.visit_questions import MOUNTING_WORDS

ROWS = 10
"""Units shown after the first one."""

CHANGES = 8
"""Signatures of others shown at once."""

NOT_AGAIN_H = 12
"""A unit is not offered again within so many hours of a signature; planning value of ours. [h]"""

AWAY_MIN = 60
"""Who was away for so long is told what changed meanwhile; planning value of ours. [min]"""

WALK, HERE = "walk", "here"
"""Cookies: which site and line I walk; when I was here, and the time before that."""


def today(request: FormRequest) -> Response:
    """Show what there is to do for who holds the device."""
    walk = _walk(request)
    due = due_units.kept().now()
    table = None if due is None else due.table
    since, here = _since(request)
    words: dict[str, Any] = {
        "fleet": plant_name(launch_settings.fleet_name()),
        "person": request.person,
        "people": [],
        "drafts": [],
        "changes": [],
        "more_changes": 0,
        "no_store": NO_STORE if request.kept_in is None else "",
        "since": _clock(since) if since else "",
        "is_weighed": due is not None and due.are_weighed,
        "is_listed": due is not None,
        "day": "" if due is None else day_said(due.day),
        "cautions": CAUTIONS,
    }
    others: dict[str, str] = {}
    gone: set[str] = set()
    if request.kept_in is not None:
        with request.store.reading() as connection:
            drafts = open_drafts(connection)
            mine = [draft for draft in drafts if draft.started_by == request.person]
            others = {d.unit_id: d.started_by for d in drafts if d.started_by != request.person}
            gone = {d.unit_id for d in mine} | units_signed_since(connection, _not_again())
            words["people"] = known_people(connection)
            words["drafts"] = _begun(connection, request.kept_in.name, mine)
            changes = signed_by_others(connection, since, request.person) if since else []
        words["changes"] = [_change(one) for one in changes[:CHANGES]]
        words["more_changes"] = max(0, len(changes) - CHANGES)
    listed = pd.DataFrame() if table is None else _there(table, walk, gone)
    most = len(listed) if request.query.get("all") == "1" else 1 + ROWS
    shown = [_row(row, others, walk) for _, row in listed.head(most).iterrows()]
    where = due_words.where_said(walk["site"], walk["line"])
    words |= {
        "sites": [] if table is None else sorted(table["site"].dropna().astype(str).unique()),
        "lines": [] if table is None else _lines(table, walk["site"]),
        **walk,
        "where": where,
        "all_query": urlencode({**walk, "all": "1"}),
        "walk_query": urlencode({name: value for name, value in walk.items() if value}),
        "summary": due_words.summed_up(
            len(words["drafts"]),
            listed if len(listed) else pd.DataFrame({"minutes": []}),
            where,
        ),
        "first": shown[0] if shown else None,
        "rows": shown[1:],
        "more": max(0, len(listed) - most),
    }
    response = HTMLResponse(render("today.html", **words))
    for name, value in ((WALK, urlencode(walk)), (HERE, here)):
        response.set_cookie(name, quote(value), max_age=KEPT_S, samesite="lax")
    return response


def next_unit(request: FormRequest, unit_id: str) -> dict[str, str] | None:
    """Return the unit to walk to after one, of the list and walk that this device was shown.

    Parameters
    ----------
    request : FormRequest
        Whose cookies tell which walk it is.
    unit_id : str
        The unit where one stands.

    Returns
    -------
    dict of str to str or None
        ``unit_id``, ``why`` and ``address``; none where the list is not worked out, or ends.
    """
    due = due_units.kept().now(patience_s=0.0)
    if due is None:
        return None
    with request.store.reading() as connection:
        begun = {draft.unit_id for draft in open_drafts(connection)}
        gone = units_signed_since(connection, _not_again()) | begun
    there = _there(due.table, _walk(request), gone - {unit_id})
    at = (there["unit_id"] == unit_id).to_numpy().nonzero()[0]
    after = there.iloc[at[0] + 1 :] if len(at) else there
    left = after if len(after) else there[there["unit_id"] != unit_id]
    if left.empty:
        return None
    row = left.iloc[0]
    return {
        "unit_id": str(row["unit_id"]),
        "why": "; ".join(due_words.reasons_said(row)),
        "address": f"/walkdown/new?{urlencode({'unit': row['unit_id']})}",
    }


def _walk(request: FormRequest) -> dict[str, str]:
    """Return which site and line are walked: by the address, else as chosen last on this device."""
    chosen = request.query
    if not {"site", "line"} & set(chosen):
        kept = parse_qs(request.cookies.get(WALK, ""))
        chosen = {name: values[0] for name, values in kept.items()}
    return {name: chosen.get(name, "") for name in ("site", "line")}


def _there(table: pd.DataFrame, walk: dict[str, str], gone: set[str]) -> pd.DataFrame:
    there = ~table["unit_id"].isin(gone)
    for name, value in walk.items():
        if value:
            there &= (table[name] == value).fillna(value=False).astype(bool)
    return table[there]


def _lines(table: pd.DataFrame, site: str) -> list[str]:
    here = table[table["site"] == site] if site else table
    return list(dict.fromkeys(here["line"].dropna().astype(str)))


def _row(row: "pd.Series[Any]", others: dict[str, str], walk: dict[str, str]) -> dict[str, Any]:
    unit_id = str(row["unit_id"])
    reasons = due_words.reasons_said(row)
    place = [row[name] for name in ("site", "line") if not walk[name]]
    place += [row["driven_equipment"], MOUNTING_WORDS[row["mounting"]]]
    return {
        "unit_id": unit_id,
        "query": urlencode({"unit": unit_id}),
        "where": due_words.place_said(place),
        "why": reasons,
        "first_why": reasons[0],
        "more_why": len(reasons) - 1,
        "stop": due_words.is_stopped_for(row),
        "minutes": f"{row['minutes']:.0f}",
        "begun_by": others.get(unit_id, ""),
    }


def _begun(connection: Connection, source: str, drafts: list[Draft]) -> list[dict[str, Any]]:
    """Say how far each walkdown is that was begun."""
    if not drafts:
        return []
    tables = read_records(connection, source, [draft.unit_id for draft in drafts])
    units = check_fleet(tables, pd.Timestamp.today()).fleet.units
    shown = []
    for draft in drafts:
        answers = {
            name: kept.answer for name, kept in answers_of(connection, draft.draft_id).items()
        }
        said = {name: answer.value for name, answer in answers.items()}
        unit = units[units["unit_id"] == draft.unit_id].reset_index(drop=True)
        given = {
            name
            for name, one in answers.items()
            if name in CHECK_BY_NAME and (one.value or one.reason)
        }
        asked = asked_checks(unit, said.get("machine_state", ""), said.get("kind", "")) | given
        place: Any = unit.iloc[0] if len(unit) else {}
        shown.append(
            {
                "draft_id": draft.draft_id,
                "unit_id": draft.unit_id,
                "where": due_words.place_said(
                    [place.get(name) for name in ("site", "line", "driven_equipment")]
                ),
                "answered": len(given),
                "asked": len(asked),
                "saved": _clock(draft.changed_at),
                "corrects": draft.corrects_version is not None,
            }
        )
    return shown


def _change(one: Signed) -> dict[str, str]:
    now = "released to start" if one.is_release else verdict_shown(one.verdict)
    before = verdict_shown(one.before) if one.before and one.before != one.verdict else ""
    return {
        "unit_id": one.unit_id,
        "query": urlencode({"unit": one.unit_id}),
        "now": now,
        "before": before,
        "by": one.by,
        "at": _clock(one.at),
    }


def _since(request: FormRequest) -> tuple[str, str]:
    """Return since when changes are told, empty at the first visit, and what to keep of this one.

    Opened again within the hour it tells the same, so that a reload loses nothing.
    """
    now = datetime.now(UTC)
    before, _, last = request.cookies.get(HERE, "").partition(" ")
    was = _moment(last)
    if was is None or now - was > timedelta(minutes=AWAY_MIN):
        before = last if was else ""
    given = _moment(request.query.get("since", "")) or _moment(before)
    kept = f"{before} {now.isoformat(timespec='seconds')}"
    return (given.isoformat() if given else ""), kept


def _moment(text: str) -> datetime | None:
    try:
        return datetime.fromisoformat(text).astimezone(UTC)
    except (ValueError, OverflowError):
        return None


def _not_again() -> str:
    return (datetime.now(UTC) - timedelta(hours=NOT_AGAIN_H)).isoformat()


def _clock(at: str) -> str:
    """Say when it was: today by the clock alone."""
    moment = datetime.fromisoformat(at).astimezone()
    is_today = moment.date() == datetime.now().astimezone().date()
    return f"{moment:%H:%M}" if is_today else f"{moment.day} {moment:%B %H:%M}"
