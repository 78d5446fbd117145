"""Views kept by name: what a person chose on a page, as the address that shows it."""

from dataclasses import asdict, dataclass

from sqlalchemy import Connection, delete, insert, select

from scoring.access.acts import Act
from scoring.access.allowed import require_own, require_written
from scoring.access.who_asks import who_asks
from scoring.entering.kept_plans import link_kept, named
from scoring.entering.new_keys import new_key
from scoring.entering.refusals import Fault, RefusedError
from scoring.store.schema import KEPT_VIEWS
from scoring.store.store_errors import UnknownRecordError
from scoring.store.writing import Change, Writing


@dataclass(frozen=True)
class KeptView:
    """What a person chose on a page.

    Attributes
    ----------
    view_id, name : str
        Its key, and what it is called.
    kept_by, kept_at : str
        Who kept it, and when. [UTC]
    page : str
        The page, as its path: ``fix``.
    link : str
        The address that shows it.
    """

    view_id: str
    name: str
    kept_by: str
    kept_at: str
    page: str
    link: str


def keep_view(writing: Writing, name: str, page: str, link: str) -> KeptView:
    """Keep what is chosen on a page in the actor's name.

    Parameters
    ----------
    writing : Writing
        In whose name.
    name : str
        What it is called; the actor has no other of that name on the page.
    page, link : str
        The page, and the address that shows what is chosen.

    Returns
    -------
    KeptView

    Raises
    ------
    RefusedError
        If it has no name, or one that is in use.
    """
    require_written(writing, Act.KEEP_VIEW)
    called = named(name, "view")
    link_kept(link)
    for other in kept_views(writing.connection, page):
        if (other.name, other.kept_by) == (called, writing.actor):
            words = f"you keep a view as {called!r} already; remove it, or give another name"
            raise RefusedError((Fault("name", words),))
    view = KeptView(new_key("kept_views"), called, writing.actor, writing.at, page, link)
    writing.connection.execute(insert(KEPT_VIEWS).values(asdict(view)))
    writing.note([Change("kept_views", view.view_id, "kept", after=asdict(view))])
    return view


def remove_view(writing: Writing, view_id: str) -> None:
    """Remove a view; the history still tells what it was.

    Raises
    ------
    UnknownRecordError
        If there is none of that key.
    """
    found = writing.connection.execute(
        select(KEPT_VIEWS).where(KEPT_VIEWS.c.view_id == view_id)
    ).one_or_none()
    if found is None:
        raise UnknownRecordError("that view is no longer there; somebody removed it")
    require_own(require_written(writing, Act.KEEP_VIEW), found.kept_by, "that view")
    writing.connection.execute(delete(KEPT_VIEWS).where(KEPT_VIEWS.c.view_id == view_id))
    writing.note([Change("kept_views", view_id, "removed", before=asdict(KeptView(*found)))])


def kept_views(connection: Connection, page: str) -> list[KeptView]:
    """Return the views of a page, by name; to who has some sites alone, their own."""
    asker = who_asks()
    query = select(KEPT_VIEWS).where(KEPT_VIEWS.c.page == page)
    if asker.sites is not None:
        query = query.where(KEPT_VIEWS.c.kept_by == asker.name)
    rows = connection.execute(query.order_by(KEPT_VIEWS.c.name, KEPT_VIEWS.c.kept_by))
    return [KeptView(*row) for row in rows]
