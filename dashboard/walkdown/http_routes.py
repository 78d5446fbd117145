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
from scoring.access.acts import Act


def http_routes() -> list[Route]:
    """Return the routes of the form and of the pages around it."""
    draft = f"{form_requests.API}/drafts/{{draft_id}}"
    calls: tuple[tuple[str, str, Work, Act], ...] = (
        ("GET", draft, form_requests.tell_draft, Act.WALK),
        ("PUT", f"{draft}/answers/{{field}}", form_requests.take_answer, Act.WALK),
        ("POST", f"{draft}/photos/{{check}}", form_requests.take_photo, Act.WALK),
        ("GET", f"{draft}/photos/{{photo_id}}", form_requests.show_photo, Act.SEE),
        ("DELETE", f"{draft}/photos/{{photo_id}}", form_requests.drop_photo, Act.WALK),
        ("POST", f"{draft}/verdict", form_requests.tell_verdict, Act.WALK),
        ("POST", f"{draft}/submit", form_requests.take_signature, Act.WALK),
    )
    pages: tuple[tuple[str, str, Work, Act], ...] = (
        ("GET", "/today", today.today, Act.SEE),
        ("GET", "/walkdown", which_unit.which_unit, Act.WALK),
        ("GET", "/walkdown/new", which_unit.before_it_begins, Act.WALK),
        ("POST", "/walkdown/new", which_unit.begin, Act.WALK),
        ("POST", "/walkdown/give-up", which_unit.give_up, Act.WALK),
        ("GET", "/walkdown/who", person.ask_who, Act.SEE),
        ("POST", "/walkdown/who", person.take_who, Act.SEE),
        ("GET", "/reading", reading_choice.ask_reading, Act.SEE),
        ("POST", "/reading", reading_choice.take_reading, Act.SEE),
        ("GET", "/walkdown/{draft_id}", form_requests.form_page, Act.WALK),
        ("GET", "/sheet/blank", sheets.blank, Act.SEE),
        ("GET", "/sheet/filled", sheets.filled, Act.SEE),
        ("GET", "/sheet/label", sheets.label, Act.SEE),
        ("GET", "/enter/release", record_pages.begin_release, Act.RELEASE),
        ("POST", "/enter/release", record_pages.take_release, Act.RELEASE),
        ("GET", "/enter/{table}", record_pages.begin_record, Act.ENTER),
        ("POST", "/enter/{table}", record_pages.take_record, Act.ENTER),
    )
    return [
        Route(path, answering(work, path, act, largest=_largest_of(work)), methods=[method])
        for method, path, work, act in calls
    ] + [
        Route(path, answering(work, path, act, page=True), methods=[method])
        for method, path, work, act in pages
    ]


def _largest_of(work: Work) -> int:
    return LARGEST_PHOTO if work is form_requests.take_photo else LARGEST
