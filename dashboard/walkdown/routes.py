"""Which request is answered by what."""

from starlette.routing import Route

from dashboard.walkdown import entering, person, records, which_unit
from dashboard.walkdown.answering import Work, answering


def routes() -> list[Route]:
    """Return the routes of the form and of the pages around it."""
    draft = f"{entering.API}/drafts/{{draft_id}}"
    calls: tuple[tuple[str, str, Work], ...] = (
        ("GET", draft, entering.tell_draft),
        ("PUT", f"{draft}/answers/{{field}}", entering.take_answer),
        ("POST", f"{draft}/photos/{{check}}", entering.take_photo),
        ("GET", f"{draft}/photos/{{photo_id}}", entering.show_photo),
        ("DELETE", f"{draft}/photos/{{photo_id}}", entering.drop_photo),
        ("POST", f"{draft}/verdict", entering.tell_verdict),
        ("POST", f"{draft}/submit", entering.take_signature),
    )
    pages: tuple[tuple[str, str, Work], ...] = (
        ("GET", "/walkdown", which_unit.which_unit),
        ("GET", "/walkdown/new", which_unit.before_it_begins),
        ("POST", "/walkdown/new", which_unit.begin),
        ("POST", "/walkdown/give-up", which_unit.give_up),
        ("GET", "/walkdown/who", person.ask_who),
        ("POST", "/walkdown/who", person.take_who),
        ("GET", "/walkdown/{draft_id}", entering.form_page),
        ("GET", "/enter/release", records.begin_release),
        ("POST", "/enter/release", records.take_release),
        ("GET", "/enter/{table}", records.begin_record),
        ("POST", "/enter/{table}", records.take_record),
    )
    return [Route(path, answering(work), methods=[method]) for method, path, work in calls] + [
        Route(path, answering(work, page=True), methods=[method]) for method, path, work in pages
    ]
