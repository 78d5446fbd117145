"""Read what the walkdown form without a network wrote: walkdowns, and what stands beside them."""

from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from scoring.contract import WALKDOWNS
from scoring.contract.version import CONTRACT_VERSION
from scoring.errors import FixableError, UnreadableFleetError
from scoring.files.json_entries import Entries, read_json, refuse
from scoring.files.route_answers import Answer, Photo, plain_text, read_answers, read_photos
from scoring.intake import RawTable

WRITTEN_BY = "walkdown form without a network"
"""By which such a file is known."""

ADVICE = (
    "Open the page on which these walkdowns were made and save a copy again: what it shows as "
    "saved is still there"
)
_ROUTE = ("written_by", "contract", "route", "saved_at", "walkdowns")
_WALKDOWN = (
    "walkdown_id",
    "unit_id",
    "finished",
    "answers",
    "photos",
    "signed_by",
    "signed_at",
    "told",
    "recorded_at",
)


@dataclass(frozen=True)
class RouteWalkdown:
    """One walkdown as the form kept it.

    Attributes
    ----------
    walkdown_id, unit_id : str
        Its key and the unit.
    finished : bool
        Whether it was signed.
    answers : tuple of Answer
        What was answered, each field once.
    photos : tuple of Photo
        Photos, as they came; nobody has looked into them yet.
    signed_by, signed_at, told : str
        Who signed it and when, and who was told of a hold.
    recorded_at : str
        When the last answer was given.
    """

    walkdown_id: str
    unit_id: str
    finished: bool
    answers: tuple[Answer, ...]
    photos: tuple[Photo, ...]
    signed_by: str
    signed_at: str
    told: str
    recorded_at: str

    @property
    def not_seen(self) -> dict[str, str]:
        """Return why a check was not seen, by check."""
        return {one.field: one.reason for one in self.answers if one.reason}

    def cells(self) -> dict[str, str]:
        """Return the row of the table ``walkdowns``, by heading."""
        own = {
            "walkdown_id": self.walkdown_id,
            "unit_id": self.unit_id,
            "recorded_at": self.recorded_at,
        }
        return own | {
            one.heading: one.value
            for one in self.answers
            if one.value and one.field in WALKDOWNS.column_by_name
        }


@dataclass(frozen=True)
class FilledRoute:
    """What a file of the form holds.

    Attributes
    ----------
    name : str
        The route.
    saved_at : str
        When the copy was saved.
    walkdowns : tuple of RouteWalkdown
        All of them, those not yet signed too.
    source : str
        The file, as a person knows it.
    notes : tuple of str
        What a person should know.
    """

    name: str
    saved_at: str
    walkdowns: tuple[RouteWalkdown, ...]
    source: str
    notes: tuple[str, ...]

    def beside(self) -> dict[str, RouteWalkdown]:
        """Return each signed walkdown by its id: reasons, photos and sign-off."""
        return {one.walkdown_id: one for one in self.walkdowns if one.finished}

    def table(self) -> RawTable:
        """Return the signed walkdowns as a table of text cells.

        Returns
        -------
        RawTable
            Row 2 is the first walkdown of the file, and so forth.
        """
        numbered = [(row, one.cells()) for row, one in enumerate(self.walkdowns, 2) if one.finished]
        given = {heading for _, cells in numbered for heading in cells}
        required = [*WALKDOWNS.required, "recorded_at"]
        headings = [*required, *sorted(given - set(required))]
        rows = [[cells.get(heading, "") for heading in headings] for _, cells in numbered]
        table = RawTable.from_rows(WALKDOWNS.name, self.source, headings, rows)
        return replace(table, rows=np.array([row for row, _ in numbered], dtype=np.int64))


def read_route(path: Path) -> FilledRoute:
    """Read a file that the walkdown form without a network wrote.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    FilledRoute

    Raises
    ------
    UnreadableFleetError
        If it is damaged, or no such file; the message says what to do.
    """
    try:
        return _route(path)
    except FixableError as error:
        raise UnreadableFleetError(f"{error}. {ADVICE}") from None


def _route(path: Path) -> FilledRoute:
    found, _ = read_json(path)
    if not isinstance(found, dict) or found.get("written_by") != WRITTEN_BY:
        raise FixableError(f"{path} was not written by the walkdown form")
    entries = Entries(path.name, found, _ROUTE)
    listed = found["walkdowns"]
    if not isinstance(listed, list):
        refuse(entries.at("walkdowns"), listed, "a list of walkdowns")
    walkdowns = tuple(_walkdown(path.name, n, one) for n, one in enumerate(listed, 1))
    twice = [key for key, n in Counter(w.walkdown_id for w in walkdowns).items() if n > 1]
    if twice:
        raise FixableError(f"{path.name}: the walkdown {twice[0]!r} stands twice")
    return FilledRoute(
        name=plain_text(entries, "route"),
        saved_at=plain_text(entries, "saved_at"),
        walkdowns=walkdowns,
        source=path.name,
        notes=(*_other_contract(path.name, entries), *_not_signed(path.name, walkdowns)),
    )


def _walkdown(name: str, number: int, found: object) -> RouteWalkdown:
    entries = Entries(f"{name}, walkdown {number}", found, _WALKDOWN)
    return RouteWalkdown(
        walkdown_id=plain_text(entries, "walkdown_id"),
        unit_id=plain_text(entries, "unit_id"),
        finished=entries.flag("finished"),
        answers=read_answers(entries.at("answers"), entries["answers"]),
        photos=read_photos(entries.at("photos"), entries["photos"]),
        signed_by=plain_text(entries, "signed_by"),
        signed_at=plain_text(entries, "signed_at"),
        told=plain_text(entries, "told"),
        recorded_at=plain_text(entries, "recorded_at"),
    )


def _other_contract(name: str, entries: Entries) -> tuple[str, ...]:
    """Say that an older page asked; its answers are checked like all others."""
    if plain_text(entries, "contract") == CONTRACT_VERSION:
        return ()
    return (f"{name} was made by a page of another version; its answers are checked all the same",)


def _not_signed(name: str, walkdowns: tuple[RouteWalkdown, ...]) -> tuple[str, ...]:
    left = [one.unit_id for one in walkdowns if not one.finished]
    if not left:
        return ()
    return (f"{name}: not signed yet, so left out: the walkdown of {', '.join(left)}",)
