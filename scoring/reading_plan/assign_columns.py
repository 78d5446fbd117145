"""Which of our columns each heading of one grid fills, and which tables it feeds."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from scoring.contract import CHECK_BY_NAME, CHECKS, FLEET_TABLES, TABLE_BY_NAME, Kind
from scoring.contract.words_of_languages import LANGUAGES, language_words
from scoring.reading_plan.heading_matches import Match, Target, matches_of
from scoring.reading_plan.profile import MOSTLY, Profile
from scoring.reading_plan.tidy_text import tidy
from scoring.reading_plan.trade_terms import Terms, columns_made, terms_in, words_made
from scoring.reading_plan.units_of_measure import heading_and_unit

LIKELY_FROM = 84.0
"""From this score on a heading is taken to be likely; planning value of ours. [%]"""

DOUBTFUL_FROM = 78.0
"""From this score on it is asked for; planning value of ours. [%]"""

DONE_FROM = 100.0
"""A heading must be the very words of re-work if yes is to tell that it was done. [%]"""

FITS = 3.0
"""A doubtful heading is asked for only if its cells fit so well; planning value of ours."""

SAYS_A_UNIT = 20.0
"""How much less a heading with a unit fits a column of text; planning value of ours. [%]"""

CHECKS_WITHOUT_A_DAY = 4
"""A list of units holds walkdowns too if it has so many checks and says no day of them."""

MOST_CHOICES = 4

BY_WORDS = (
    ("units", "mounting"),
    ("units", "seal_material"),
    ("walkdowns", "kind"),
    ("events", "mode"),
    ("rework", "actions"),
)
"""Columns whose words are like those of no other."""

KNOWN_WORDS = 0.5
"""So many of their words must be known; planning value of ours."""

SCORE_BY_WORDS = 90.0
"""How well a column is said to fit that only its words tell of. [%]"""

_CHECK_NAMES = frozenset(check.name for check in CHECKS)
_SHARED = frozenset({"unit_id", "notes", "recorded_at", "seal_side", "crew", "event_id"})
_STRONG = {
    "units": ("mounting", "shaft_diameter_mm", "installed_on", "site"),
    "events": ("occurred_on", "mode"),
    "rework": ("done_on", "actions"),
}


@dataclass(frozen=True)
class Assigned:
    """What one heading is taken for.

    Attributes
    ----------
    target : Target
        Of ours.
    tables : tuple of str
        The tables it feeds.
    score : float
        How well it fits. [%]
    because : str
        Why.
    choices : tuple of str
        What it may be, as ``fills``, where it has to be asked.
    language : str
        Whose list said so.
    """

    target: Target
    tables: tuple[str, ...]
    score: float
    because: str
    choices: tuple[str, ...] = ()
    language: str = ""


def tables_named(text: str) -> tuple[str, ...]:
    """Return the tables that the name of a file or sheet speaks of.

    Examples
    --------
    >>> tables_named("Rundgänge 2025"), tables_named("Blatt1")
    (('walkdowns',), ())
    """
    words = f" {tidy(text)} "
    found: dict[str, int] = {}
    for table in FLEET_TABLES:
        for language in LANGUAGES:
            for said in (table.name, *language_words(language).tables.get(table.name, ())):
                if f" {tidy(said)} " in words:
                    found[table.name] = max(found.get(table.name, 0), len(said))
    longest = max(found.values(), default=0)
    return tuple(name for name, size in found.items() if size == longest)


def scored(heading: str, profile: Profile) -> list[tuple[float, Match, str]]:
    """Return what a heading may be with its cells looked at: score, match, table; best first."""
    found = []
    unit = heading_and_unit(heading)[1] or any("hours" in r for r in terms_in(heading).readings)
    for match in matches_of(heading):
        for table in FLEET_TABLES:
            column = table.column_by_name.get(match.target.column)
            if column is None:
                continue
            if match.target.means:
                fit = _fits_told(match, profile, table.name)
            else:
                fit = profile.fits(column, heading)
                if (
                    unit
                    and column.kind in (Kind.TEXT, Kind.IDENTIFIER)
                    and column.name != "screw_thread"
                ):
                    fit -= SAYS_A_UNIT  # a name has no unit
            if fit > -50:
                found.append((min(match.score, 100.0) + fit, match, table.name))
    best = max((score for score, _, _ in found), default=0.0)
    if profile.texts and best < 99.0 and profile.yes_no < MOSTLY:  # no very words that fit
        found += _by_words(profile)
    return sorted(found, key=lambda one: -one[0])


def _by_words(profile: Profile) -> list[tuple[float, Match, str]]:
    """Return what a column may be by its words alone, whatever its heading says."""
    found = []
    for table, name in BY_WORDS:
        share = profile.known(TABLE_BY_NAME[table][name])[0]
        if share >= KNOWN_WORDS:
            match = Match(Target(name), SCORE_BY_WORDS, f"words of {name}", "")
            found.append((SCORE_BY_WORDS * (0.95 + 0.05 * share), match, table))
    return found


def _fits_told(match: Match, profile: Profile, table: str) -> float:
    """Tell whether cells may be days of a failure, or of one re-work, or that it was done."""
    target = match.target
    wanted = "events" if target.column == "occurred_on" else "rework"
    if table != wanted or not profile.texts:
        return -100.0
    if max(profile.dates, profile.serial_dates) >= MOSTLY:
        return 4.0
    # Whether a guard is fitted is a check; that it was fitted is told by the very words alone.
    told = match.score >= DONE_FROM or (match.by_terms and not _is_check(match))
    done = wanted == "rework" and profile.yes_no >= MOSTLY and told
    return 0.0 if done else -100.0


def _is_check(match: Match) -> bool:
    """Whether the same terms are those of a check, or of one and a word of it: *guard fitted*."""
    said = frozenset(match.said.split())
    parts = [(said, frozenset[str]()), *((said - {term}, frozenset({term})) for term in said)]
    return any(
        not word or words_made(Terms((word,), 0, ""), CHECK_BY_NAME[column].allowed)
        for looked_at, word in parts
        for column in columns_made(Terms((looked_at,), 0, ""))
        if column in CHECK_BY_NAME and CHECK_BY_NAME[column].allowed
    )


def tables_fed(
    headings: Mapping[str, list[tuple[float, Match, str]]], named: Sequence[str]
) -> tuple[str, ...]:
    """Tell which tables a grid feeds, from its name and from what its headings may be."""
    weight: dict[str, float] = dict.fromkeys(TABLE_BY_NAME, 0.0)
    strong: dict[str, set[str]] = {name: set() for name in TABLE_BY_NAME}
    told: set[str] = set()
    for options in headings.values():
        good = [(score, m, table) for score, m, table in options if score >= LIKELY_FROM]
        if not good:
            continue
        top = max(score for score, _, _ in good)
        best = [(m, table) for score, m, table in good if score >= top - 2]
        names = {table for _, table in best}
        for match, table in best:
            if match.target.means:
                told.add(table)
                continue
            if match.target.column in _SHARED:
                continue
            weight[table] += 1.0 / len(names)
            strong[table].add(match.target.column)
    checks = len(strong["walkdowns"] & _CHECK_NAMES)
    fed = {
        "units": len(strong["units"] & set(_STRONG["units"])) >= 2,
        "walkdowns": checks >= 2 or (checks >= 1 and "inspected_on" in strong["walkdowns"]),
        "events": "mode" in strong["events"] or "events" in told,
        "rework": "actions" in strong["rework"] or "rework" in told,
        "accepted": "until_on" in strong["accepted"] and len(strong["accepted"]) >= 3,
    }
    if fed["units"] and not strong["walkdowns"] & {"inspected_on", "walkdown_id", "kind"}:
        fed["walkdowns"] = checks >= CHECKS_WITHOUT_A_DAY
    if named and not any(fed.get(name) for name in named):
        fed[max(named, key=lambda name: weight[name])] = bool(sum(weight.values()))
    elif named and named[0] in ("units", "walkdowns", "events", "rework"):
        fed = _without_weak(fed, named, strong, checks)
    if fed["accepted"]:
        return ("accepted",)
    return tuple(name for name in TABLE_BY_NAME if fed.get(name))


def _without_weak(
    fed: dict[str, bool], named: Sequence[str], strong: Mapping[str, set[str]], checks: int
) -> dict[str, bool]:
    """Where the name says a table, others are fed only on strong grounds."""
    kept = dict(fed)
    if "units" not in named:
        kept["units"] &= {"mounting", "shaft_diameter_mm"} <= strong["units"]
    if "walkdowns" not in named:
        kept["walkdowns"] &= checks >= 3
    return kept


def assign(
    headings: Mapping[str, list[tuple[float, Match, str]]],
    profiles: Mapping[str, Profile],
    fed: Sequence[str],
    taken: Sequence[str] = (),
) -> dict[str, Assigned]:
    """Give each heading the column that fits it best, no two the same."""
    pairs = sorted(
        (
            (_ranked(score, match, table, fed), heading, match, table, score)
            for heading, options in headings.items()
            for score, match, table in options
            if table in fed
        ),
        key=lambda one: -one[0],
    )
    gone: set[tuple[str, str]] = {(f.partition(".")[0], f.partition(".")[2]) for f in taken}
    chosen: dict[str, Assigned] = {}
    for _, heading, match, table, score in pairs:
        if heading in chosen or score < DOUBTFUL_FROM:
            continue
        target = match.target
        name = f"{target.column}={target.means}" if target.means else target.column
        if (table, name) in gone:
            continue
        tables = _all_tables(target, table, fed)
        choices: tuple[str, ...] = ()
        if score < LIKELY_FROM and profiles[heading].texts:
            if (
                target.means
                or profiles[heading].fits(TABLE_BY_NAME[table][target.column], heading) < FITS
            ):
                continue
            choices = _choices(headings[heading], fed)
        gone |= {(one, name) for one in tables}
        because = _why(heading, match, profiles[heading], target)
        chosen[heading] = Assigned(target, tables, score, because, choices, match.language)
    return chosen


def _ranked(score: float, match: Match, table: str, fed: Sequence[str]) -> float:
    """Prefer, of what fits alike, what names more, and what says when over what it was."""
    order = {"walkdowns": 0.3, "units": 0.2, "events": 0.1, "rework": 0.0, "accepted": 0.0}
    required = 0.5 if match.target.column in TABLE_BY_NAME[table].required else 0.0
    first = order[table] if len(fed) > 1 else 0.0
    return score + required + first + 0.01 * min(len(match.said), 30)


def _all_tables(target: Target, table: str, fed: Sequence[str]) -> tuple[str, ...]:
    if target.column == "unit_id" and not target.means:
        return tuple(fed)
    return (table,)


def _choices(options: Sequence[tuple[float, Match, str]], fed: Sequence[str]) -> tuple[str, ...]:
    names = dict.fromkeys(
        f"{table}.{m.target.column}"
        for _, m, table in options
        if table in fed and not m.target.means
    )
    return tuple(names)[:MOST_CHOICES]


def _why(heading: str, match: Match, profile: Profile, target: Target) -> str:
    whose = (
        "our own name" if match.language == "contract" else f"{match.language.capitalize()} for it"
    )
    if not match.language:
        return f"its words are those of {target.column}: {', '.join(profile.texts[:3])}"[:160]
    near = whose if match.score >= 100 else f"like {match.said!r}, {whose}"
    if match.by_terms:
        near = f"its words say {match.said}"
    column = next(t[target.column] for t in FLEET_TABLES if target.column in t.column_by_name)
    if not profile.texts:
        return f"{near}; no cell is filled"
    shown = ", ".join(profile.texts[:3])
    what = {Kind.DATE: "dates", Kind.NUMBER: "numbers", Kind.COUNT: "numbers"}.get(
        column.kind, "words"
    )
    del heading
    return f"{near}; {what} as {shown}"[:160]
