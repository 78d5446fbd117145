"""A walkdown as it was filled in: what was seen, what was found, who signed and who was told."""

from dataclasses import dataclass, field
from itertools import groupby

from scoring.contract.cautions import CAUTIONS
from scoring.contract.ranking import HOLD
from scoring.contract.verdict_words import verdict_said
from scoring.sheets.blank_walkdown import CODE_MM, DRAWING_MM, NO_RELEASE
from scoring.sheets.drawing_on_paper import Drawing
from scoring.sheets.sheet_blocks import (
    Align,
    Beside,
    Block,
    Cell,
    Code,
    Column,
    Facts,
    Heading,
    Photo,
    Prose,
    Section,
    Sheet,
    Signatures,
    Table,
    Together,
    Verdict,
    Weight,
    Written,
)
from scoring.sheets.unit_code import code_of_unit
from scoring.walkdown_form.findings_picture import MarkedFinding, draw_findings
from scoring.walkdown_form.visit_questions import KINDS, MOUNTING_WORDS

TITLE = "Walkdown as it was filled in"
PHOTOS_ABREAST, PHOTO_MM = 3, 56.0
"""So many photos stand beside one another, each so wide. [mm]"""


@dataclass(frozen=True)
class SeenCheck:
    """One check as it was seen.

    Attributes
    ----------
    station, label : str
        Letter of the station at which it is made, and what it is called.
    seen : str
        What was seen, with its unit; or that it was not.
    result : str
        ``good``, which finding it is, or why it was not seen.
    is_finding : bool
        Whether it is worse than good.
    """

    station: str
    label: str
    seen: str
    result: str
    is_finding: bool = False


@dataclass(frozen=True)
class FindingThen:
    """A finding as it stood when the walkdown was written down.

    Attributes
    ----------
    check : str
        The check it is of.
    severe : bool
        Whether the unit must not run because of it.
    asks_for, what, do, seen_on : str
        hold, correct or watch; what was found, what to do about it, and when it was seen.
    """

    check: str
    severe: bool
    asks_for: str
    what: str
    do: str
    seen_on: str


@dataclass(frozen=True)
class Signed:
    """A signature that is kept.

    Attributes
    ----------
    by, at : str
        Who, and when.
    verdict : str
        The verdict that they saw.
    told : str
        Who was told of a hold.
    """

    by: str
    at: str
    verdict: str
    told: str


@dataclass(frozen=True)
class ReleaseKept:
    """A release to start that was signed after the walkdown: by whom, when, and what was done."""

    by: str
    at: str
    reason: str


@dataclass(frozen=True)
class FilledWalkdown:
    """All that a sheet says of one walkdown.

    Attributes
    ----------
    walkdown_id, unit_id, site, line, drives, mounting : str
        Which; blank where it is not recorded.
    seen_on, kind, inspector, notes : str
        Of the visit.
    version : int
        How often it was written down; 0 where none is kept.
    verdict : str
        hold, correct, watch or no_finding; empty where the unit was not in service.
    seen : tuple of SeenCheck
        In walking order.
    findings : tuple of FindingThen
        The worst first.
    not_seen : str
        Critical checks that nobody has seen.
    signed : Signed, optional
        Who signed it.
    keeps_signatures : bool
        Whether the records can hold signatures and photos: a store does, files do not.
    photos : tuple of (str, bytes)
        What each shows, and its JPEG.
    releases : tuple of ReleaseKept
        The last first.
    """

    walkdown_id: str
    unit_id: str
    site: str
    line: str
    drives: str
    mounting: str
    seen_on: str
    kind: str
    inspector: str
    notes: str
    version: int
    verdict: str
    seen: tuple[SeenCheck, ...]
    findings: tuple[FindingThen, ...]
    not_seen: str = ""
    signed: Signed | None = None
    keeps_signatures: bool = False
    photos: tuple[tuple[str, bytes], ...] = field(default=(), repr=False)
    releases: tuple[ReleaseKept, ...] = ()


def filled_walkdown(filled: FilledWalkdown, foot: tuple[str, ...] = (), host: str = "") -> Sheet:
    """Return the sheet of one walkdown.

    Parameters
    ----------
    filled : FilledWalkdown
        What is known of it.
    foot : tuple of str
        At the foot of each page.
    host : str
        Where the pages are.

    Returns
    -------
    Sheet
    """
    blocks = (
        _head(filled, host),
        _verdict(filled),
        *_findings(filled),
        *_checks(filled),
        *_notes(filled),
        _signatures(filled),
        _release(filled),
        *_photos(filled),
    )
    section = Section(Written(filled.unit_id), blocks)
    return Sheet(TITLE, (section,), foot, CAUTIONS, dense=True)


def _head(filled: FilledWalkdown, host: str) -> Beside:
    """Return the drawing with the findings, and beside it which unit, when, why and by whom."""
    kinds = {kind: words for kind, words, _ in KINDS}
    written = (
        ("site", filled.site),
        ("line", filled.line),
        ("drives", filled.drives),
        ("seen by", filled.inspector),
        ("walkdown", filled.walkdown_id),
    )
    rows: list[tuple[str, Cell]] = [(words, Written(one)) for words, one in written if one]
    rows += [
        ("mounting", MOUNTING_WORDS[filled.mounting]),
        ("seen on", filled.seen_on),
        ("why", kinds[filled.kind]),
    ]
    if filled.version > 1:
        rows.append(("version", str(filled.version)))
    marked = tuple(
        MarkedFinding(number, one.check, one.severe)
        for number, one in enumerate(filled.findings, 1)
    )
    drawing = Drawing(draw_findings(filled.mounting, marked), DRAWING_MM)
    code = Code(code_of_unit(filled.unit_id, host), "", CODE_MM)
    return Beside(
        ((drawing,), (code, Facts(tuple(rows), columns=1))),
        (DRAWING_MM, 184.0 - DRAWING_MM - 5.0),
    )


def _verdict(filled: FilledWalkdown) -> Verdict:
    verdict = filled.signed.verdict if filled.signed else filled.verdict
    why = "; ".join(one.what for one in filled.findings if one.severe)
    if not why and filled.not_seen:
        why = f"critical checks that nobody has seen: {filled.not_seen}"
    return Verdict(verdict_said(verdict), verdict == HOLD, why)


def _findings(filled: FilledWalkdown) -> tuple[Block, ...]:
    if not filled.findings:
        return (Prose("No finding. Never a permission to run.", Weight.STRONG),)
    columns = (
        Column("nr.", Align.RIGHT),
        Column("asks for"),
        Column("found", share=3),
        Column("what to do", share=2),
        Column("seen on"),
    )
    rows = tuple(
        (str(number), one.asks_for, one.what, one.do, one.seen_on)
        for number, one in enumerate(filled.findings, 1)
    )
    severe = frozenset(n for n, one in enumerate(filled.findings) if one.severe)
    return Heading("Findings"), Table(columns, rows, severe)


def _checks(filled: FilledWalkdown) -> tuple[Block, ...]:
    """Return each check as it was seen; the letter of a station stands at its first."""
    rows = []
    for letter, there in groupby(filled.seen, key=lambda one: one.station):
        rows += [
            (letter if n == 0 else "", one.label, one.seen, one.result)
            for n, one in enumerate(there)
        ]
    strong = frozenset(n for n, one in enumerate(filled.seen) if one.is_finding)
    columns = (
        Column("station"),
        Column("check", share=2),
        Column("seen", share=3),
        Column("that is", share=1.4),
    )
    return Heading("Every check as it was seen"), Table(columns, tuple(rows), strong)


def _notes(filled: FilledWalkdown) -> tuple[Block, ...]:
    if not filled.notes:
        return ()
    return Heading("Notes"), Prose(Written(filled.notes))


def _signatures(filled: FilledWalkdown) -> Together:
    """Return who signed and who was told; where none is kept, room to sign."""
    signed = filled.signed
    if signed is None:
        none = (
            "Nobody has signed this walkdown in the records."
            if filled.keeps_signatures
            else "These records are files, which hold no signature and no photo."
        )
        return Together(
            (Heading("Signature"), Prose(none), Signatures(("inspector", "who was told")))
        )
    rows: list[tuple[str, Cell]] = [("signed by", Written(signed.by)), ("signed at", signed.at)]
    if signed.told:
        rows.append(("told of the hold", Written(signed.told)))
    return Together((Heading("Signature"), Facts(tuple(rows))))


def _release(filled: FilledWalkdown) -> Together:
    blocks: list[Block] = [Heading("Release to start")]
    for one in filled.releases:
        said = (
            ("released by", Written(one.by)),
            ("when", one.at),
            ("what was done", Written(one.reason)),
        )
        blocks.append(Facts(said, columns=1))
    if not filled.releases:
        blocks.append(Prose("None is on record since."))
    return Together((*blocks, Prose(NO_RELEASE, Weight.QUIET)))


def _photos(filled: FilledWalkdown) -> tuple[Block, ...]:
    if not filled.photos:
        return ()
    photos = [Photo(jpeg, words, PHOTO_MM) for words, jpeg in filled.photos]
    rows = []
    for start in range(0, len(photos), PHOTOS_ABREAST):
        abreast: list[tuple[Block, ...]] = [
            (photo,) for photo in photos[start : start + PHOTOS_ABREAST]
        ]
        abreast += [()] * (PHOTOS_ABREAST - len(abreast))
        rows.append(Together((Beside(tuple(abreast)),)))
    return (Together((Heading("Photos"), rows[0])), *rows[1:])
