"""Kept views as a row of links."""

from collections.abc import Sequence
from html import escape

from scoring.entering.kept_views import KeptView


def view_said(view: KeptView, person: str) -> str:
    """Name a view, and who kept it if that is somebody else.

    Examples
    --------
    >>> view = KeptView("V-1", "holds", "Ann Bell", "2026-06-30T08:00:00+00:00", "fix", "/fix")
    >>> view_said(view, "Ann Bell"), view_said(view, "")
    ('holds', 'holds (Ann Bell)')
    """
    return view.name if view.kept_by == person else f"{view.name} ({view.kept_by})"


def ones_own_first(views: Sequence[KeptView], person: str) -> list[KeptView]:
    """Return views, those of the person first."""
    return sorted(views, key=lambda view: view.kept_by != person)


def row_of_views(views: Sequence[KeptView], person: str) -> str:
    """Return links that open views, as HTML."""
    links = " ".join(
        f'<a translate="no" href="{escape(view.link)}">{escape(view_said(view, person))}</a>'
        for view in views
    )
    return f'<nav class="found" aria-label="kept views">Kept views: {links}</nav>'
