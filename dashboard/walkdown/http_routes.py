"""Which request is answered by what."""

from starlette.routing import Route

from dashboard.walkdown import (
    form_requests,
    person,
    reading_choice,
    record_pages,
    sheets,
    today,
    which_unit,
)
from dashboard.walkdown.answering import LARGEST, LARGEST_PHOTO, Work, answering


def http_routes() -> list[Route]:
    """Return the routes of the form and of the pages around it."""
    draft = f"{form_requests.API}/drafts/{{draft_id}}"
    calls: tuple[tuple[str, str, Work], ...] = (
        ("GET", draft, form_requests.tell_draft),
        ("PUT", f"{draft}/answers/{{field}}", form_requests.take_answer),
        ("POST", f"{draft}/photos/{{check}}", form_requests.take_photo),
        ("GET", f"{draft}/photos/{{photo_id}}", form_requests.show_photo),
        ("DELETE", f"{draft}/photos/{{photo_id}}", form_requests.drop_photo),
        ("POST", f"{draft}/verdict", form_requests.tell_verdict),
        ("POST", f"{draft}/submit", form_requests.take_signature),
    )
    pages: tuple[tuple[str, str, Work], ...] = (
        ("GET", "/today", today.today),
        ("GET", "/walkdown", which_unit.which_unit),
        ("GET", "/walkdown/new", which_unit.before_it_begins),
        ("POST", "/walkdown/new", which_unit.begin),
        ("POST", "/walkdown/give-up", which_unit.give_up),
        ("GET", "/walkdown/who", person.ask_who),
        ("POST", "/walkdown/who", person.take_who),
        ("GET", "/reading", reading_choice.ask_reading),
        ("POST", "/reading", reading_choice.take_reading),
        ("GET", "/walkdown/{draft_id}", form_requests.form_page),
        ("GET", "/sheet/blank", sheets.blank),
        ("GET", "/sheet/filled", sheets.filled),
        ("GET", "/sheet/label", sheets.label),
        ("GET", "/enter/release", record_pages.begin_release),
        ("POST", "/enter/release", record_pages.take_release),
        ("GET", "/enter/{table}", record_pages.begin_record),
        ("POST", "/enter/{table}", record_pages.take_record),
    )
    return [
        Route(path, answering(work, path, largest=_largest_of(work)), methods=[method])
        for method, path, work in calls
    ] + [
        Route(path, answering(work, path, page=True), methods=[method])
        for method, path, work in pages
    ]


def _largest_of(work: Work) -> int:
    return LARGEST_PHOTO if work is form_requests.take_photo else LARGEST
