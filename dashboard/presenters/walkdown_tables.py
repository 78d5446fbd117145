"""Walkdowns, drafts and releases of the store, as tables and links for a person."""

import json
from collections.abc import Sequence
from html import escape
from urllib.parse import quote, urlencode

import pandas as pd

from dashboard.presenters.words import VERDICT_WORDS
from scoring.access.acts import Act
from scoring.access.who_asks import Asker
from scoring.contract import CHECK_BY_NAME
from scoring.entering.drafts import Draft
from scoring.entering.releases import Release
from scoring.store.versions import Version
from scoring.walkdown_form.visit_questions import KINDS

_KIND_WORDS = {kind: words for kind, words, _ in KINDS}

WORDS_OF_LINKS = {"go on": "go on", "correct it": "correct it", "sheet": "sheet as PDF"}
"""Columns of these tables that hold addresses, and how each is said."""

_LINKS = """
<style>
.to-enter {{ display: flex; flex-wrap: wrap; gap: .6rem; }}
.to-enter a {{ display: inline-flex; align-items: center; min-height: 3rem; padding: .4rem 1rem;
  border: 1px solid; border-radius: 2px; text-decoration: none; color: inherit; }}
</style>
<div class="to-enter">{links}</div>
"""


def how_it_stands(begun: int, signed: int) -> str:
    """Say how many walkdowns were begun, and how many are listed as signed.

    Examples
    --------
    >>> how_it_stands(1, 0), how_it_stands(0, 3)
    ('1 begun and not signed; none signed lately.', 'None begun and not signed; 3 signed lately.')
    """
    open_ones = f"{begun} begun and not signed" if begun else "None begun and not signed"
    return f"{open_ones}; {f'{signed} signed lately' if signed else 'none signed lately'}."


def links(targets: dict[str, str]) -> str:
    """Return links as big as a thumb, as HTML.

    Examples
    --------
    >>> "&lt;b&gt;" in links({"<b>": "/walkdown"})
    True
    """
    parts = (f'<a href="{escape(to)}">{escape(words)}</a>' for words, to in targets.items())
    return _LINKS.format(links="".join(parts))


def links_of_unit(unit_id: str, asker: Asker) -> dict[str, str]:
    """Return where somebody may enter something of a unit.

    Examples
    --------
    >>> from scoring.access.acts import Role
    >>> list(links_of_unit("A 1", Asker("Ann Bell", frozenset({Role.INSPECTOR}))))
    ['Begin a walkdown']
    """
    unit = urlencode({"unit": unit_id})
    there = (
        ("Begin a walkdown", f"/walkdown/new?{unit}", Act.WALK),
        ("Write down re-work", f"/enter/rework?{unit}", Act.ENTER),
        ("Write down a failure", f"/enter/events?{unit}", Act.ENTER),
        ("Accept a finding", f"/enter/accepted?{unit}", Act.ENTER),
        ("Release to start", f"/enter/release?{unit}", Act.RELEASE),
    )
    return {words: address for words, address, act in there if asker.may(act)}


def sheets_of_unit(unit_id: str, *, was_seen: bool) -> dict[str, str]:
    """Return where sheets of a unit are printed.

    Parameters
    ----------
    unit_id : str
        The unit.
    was_seen : bool
        Whether there is a walkdown of it.

    Examples
    --------
    >>> list(sheets_of_unit("A 1", was_seen=False).values())
    ['/sheet/blank?unit=A+1', '/sheet/label?unit=A+1']
    """
    unit = urlencode({"unit": unit_id})
    filled = {"Its last walkdown (PDF)": f"/sheet/filled?{unit}"} if was_seen else {}
    return {
        "Walkdown sheet (PDF)": f"/sheet/blank?{unit}",
        **filled,
        "Machine label (PDF)": f"/sheet/label?{unit}",
    }


def walkdowns_table(walkdowns: pd.DataFrame, asker: Asker) -> pd.DataFrame:
    """Return walkdowns as a person reads them; who may walk finds a link to correct each."""
    shown = pd.DataFrame(
        {
            "unit": walkdowns["unit_id"],
            "seen on": pd.to_datetime(walkdowns["inspected_on"].str[:10]),
            "why": walkdowns["kind"].map(_KIND_WORDS),
            "inspector": walkdowns["inspector"],
            "signed by": walkdowns["signed_by"],
            "verdict when signed": walkdowns["verdict"].map(VERDICT_WORDS),
            "told of the hold": walkdowns["told"],
            "holds": [_listed(holds) for holds in walkdowns["holds"]],
            "photos": walkdowns["photos"],
            "version": walkdowns["version"],
            "correct it": [
                f"/walkdown/new?{urlencode({'correct': key})}" for key in walkdowns["walkdown_id"]
            ],
            "sheet": [
                f"/sheet/filled?{urlencode({'walkdown': key})}" for key in walkdowns["walkdown_id"]
            ],
        }
    )
    return shown if asker.may(Act.WALK) else shown.drop(columns="correct it")


def _listed(holds: object) -> str:
    return "; ".join(json.loads(holds)) if isinstance(holds, str) else ""


def drafts_table(drafts: Sequence[Draft], asker: Asker) -> pd.DataFrame:
    """Return drafts as a person reads them, with a link to go on with each that is their own."""
    shown = pd.DataFrame(
        {
            "unit": [draft.unit_id for draft in drafts],
            "begun by": [draft.started_by for draft in drafts],
            "begun": [_local(draft.started_at) for draft in drafts],
            "last change": [_local(draft.changed_at) for draft in drafts],
            "go on": [
                f"/walkdown/{quote(draft.draft_id)}" if is_open_to(asker, draft) else None
                for draft in drafts
            ],
        }
    )
    return shown if asker.may(Act.WALK) else shown.drop(columns="go on")


def is_open_to(asker: Asker, draft: Draft) -> bool:
    """Tell whether somebody may go on with a draft: with a login, who began it."""
    return asker.may(Act.WALK) and asker.name in {"", draft.started_by}


def releases_table(releases: Sequence[Release]) -> pd.DataFrame:
    """Return releases to start as a person reads them."""
    return pd.DataFrame(
        {
            "released by": [release.released_by for release in releases],
            "when": [_local(release.released_at) for release in releases],
            "verdict then": [VERDICT_WORDS.get(one.verdict, "") for one in releases],
            "what was done": [release.reason for release in releases],
        }
    )


def versions_table(versions: Sequence[Version]) -> pd.DataFrame:
    """Return the versions of a record, and what each changed."""
    before: dict[str, object] = {}
    rows = []
    for version in versions:
        after = version.content
        changed = [
            f"{check_label(name)}: {before.get(name, 'blank')} → {after.get(name, 'blank')}"
            for name in sorted({*before, *after})
            if before.get(name) != after.get(name) and name != "recorded_at"
        ]
        rows.append(
            {
                "version": version.version,
                "by": version.actor,
                "when": _local(version.at),
                "why": version.reason,
                "what changed": "; ".join(changed) if before else "",
            }
        )
        before = after
    return pd.DataFrame(rows)


def check_label(name: str) -> str:
    """Return what a person calls a check, or another column.

    Examples
    --------
    >>> check_label("collar_gap_mm"), check_label("inspected_on")
    ('collar gap', 'inspected on')
    """
    return CHECK_BY_NAME[name].label if name in CHECK_BY_NAME else name.replace("_", " ")


def _local(moment: str) -> pd.Timestamp:
    """Return a moment in UTC as the plant's own time, to the minute."""
    here = pd.Timestamp(pd.Timestamp(moment).to_pydatetime().astimezone()).tz_localize(None)
    return here.floor("min")
