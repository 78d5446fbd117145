"""Sheets to print, answered as PDF: blank walkdowns of a unit or a route, a filled one, a label."""

import re
from http import HTTPStatus

import pandas as pd
from starlette.responses import Response

from dashboard import launch_settings
from dashboard.cut_fleet import cut_fleet, cut_for
from dashboard.walkdown.answering import FormRequest
from scoring.access.allowed import require_at
from scoring.access.who_asks import who_asks
from scoring.entering.walkdown_as_filled import last_walkdown_of, walkdown_as_filled
from scoring.errors import FixableError
from scoring.intake import check_fleet
from scoring.language.reading import current_reading
from scoring.language.tell import told
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper, usual_paper
from scoring.records import Fleet
from scoring.sheets.blank_walkdown import Visit, blank_walkdowns
from scoring.sheets.filled_walkdown import filled_walkdown
from scoring.sheets.foot_of_pages import foot_of_pages
from scoring.sheets.machine_label import machine_labels
from scoring.sheets.sheet_blocks import Sheet
from scoring.store.read_records import read_records
from scoring.store.schema import RECORDS
from scoring.walkdown_form.units_in_service import units_in_service
from scoring.walkdown_form.without_network import MOST_UNITS


def blank(request: FormRequest) -> Response:
    """Answer with blank sheets: of one unit, or of the units of a site and a line, as walked to."""
    query = request.query
    unit_id = query.get("unit", "")
    fleet = _records(request, unit_id)
    chosen = units_in_service(
        fleet.units,
        pd.Timestamp.today().normalize(),
        sites=[query["site"]] if query.get("site") else [],
        lines=[query["line"]] if query.get("line") else [],
        unit_ids=[unit_id] if unit_id else [],
    )
    if len(chosen) > MOST_UNITS:
        raise FixableError(
            f"{len(chosen)} units are too many for one file; at most {MOST_UNITS}. Choose a site "
            "or a line"
        )
    sheet = blank_walkdowns(
        fleet.units,
        chosen,
        measures=current_reading().measures,
        visit=Visit(query.get("visit", ""), query.get("state", "")),
    )
    return _printed(request, sheet, unit_id or "walkdowns")


def filled(request: FormRequest) -> Response:
    """Answer with a walkdown as it was filled in: by its id, or the last one of a unit."""
    walkdown_id, unit_id = request.query.get("walkdown", ""), request.query.get("unit", "")
    if walkdown_id and request.kept_in is not None:
        unit_id = _unit_of(request, walkdown_id)
    if not walkdown_id and not unit_id:
        raise FixableError("which walkdown? Say walkdown=ID, or unit=ID for the last one of a unit")
    fleet = _records(request, unit_id)
    which = walkdown_id or last_walkdown_of(fleet, unit_id)
    kept = walkdown_as_filled(fleet, which, request.kept_in)
    foot = foot_of_pages(fleet, pd.Timestamp.today().normalize())
    return _printed(request, filled_walkdown(kept, foot), kept.unit_id)


def label(request: FormRequest) -> Response:
    """Answer with the label of one unit."""
    unit_id = request.query.get("unit", "")
    fleet = _records(request, unit_id)
    (named,) = units_in_service(fleet.units, pd.Timestamp.today().normalize(), unit_ids=[unit_id])
    return _printed(request, machine_labels(fleet.units, [named]), unit_id)


def _records(request: FormRequest, unit_id: str) -> Fleet:
    """Return the records of a unit, or of all that are for who asks; as they are now."""
    cut = cut_for(who_asks())
    if request.kept_in is None:
        return cut_fleet(launch_settings.read_and_check()[0].fleet, cut)
    with request.store.reading() as connection:
        if unit_id:
            require_at(connection, unit_id)
        tables = read_records(connection, request.store.name, [unit_id] if unit_id else None)
    return cut_fleet(check_fleet(tables, pd.Timestamp.today()).fleet, cut)


def _unit_of(request: FormRequest, walkdown_id: str) -> str:
    walkdowns = RECORDS["walkdowns"]
    query = (
        walkdowns.select()
        .with_only_columns(walkdowns.c.unit_id)
        .where(walkdowns.c.walkdown_id == walkdown_id)
    )
    unknown = f"there is no walkdown {walkdown_id!r}; ids are case-sensitive"
    with request.store.reading() as connection:
        unit_id = str(connection.scalar(query) or "")
        require_at(connection, unit_id, unknown=unknown)
        return unit_id


def _printed(request: FormRequest, sheet: Sheet, name: str) -> Response:
    """Set a sheet on the paper that is asked for; by default that which goes with the measures."""
    asked = request.query.get("paper", usual_paper(current_reading().measures).value)
    if asked not in {paper.value for paper in Paper}:
        raise FixableError(f"paper is {' or '.join(paper.value for paper in Paper)}, not {asked!r}")
    file = re.sub("[^A-Za-z0-9]+", "-", f"{told(sheet.title)} {name}").strip("-")
    return Response(
        as_pdf(sheet, Paper(asked)),
        HTTPStatus.OK,
        {"Content-Disposition": f'inline; filename="{file}.pdf"'},
        "application/pdf",
    )
