"""What the words, dates and numbers of one column stand for, as a proposal."""

from collections.abc import Mapping, Sequence

from scoring.contract import Column, Kind
from scoring.contract.declaration import NO, YES, YES_NO
from scoring.contract.units import UNITS
from scoring.reading_plan.tidy_text import tidy
from scoring.reading_plan.what_a_plan_says import NOTHING, OPEN, OTHER, Question
from scoring.reading_plan.words_meant import Meaning, meaning_of, words_of

Asked = dict[str, Question]
"""Questions by their keys."""

NULLS = frozenset({"null", "nul"})
"""What databases write for nothing; a name is none of these."""

MOST_ANSWERS = 2
"""Where words give so many answers, a dash beside them gives none; planning value of ours."""


def propose_words(  # noqa: PLR0913, PLR0917 - what is known of a column
    texts: Sequence[str],
    fills: str,
    column: Column,
    heading: str,
    asked: Asked,
    known: Mapping[str, str] | None = None,
) -> dict[str, str]:
    """Propose what the words of a column stand for; ask where it cannot be told.

    Parameters
    ----------
    texts : sequence of str
        Distinct texts of the column.
    fills : str
        Which column of ours, as ``walkdowns.breather``.
    column : Column
        The same.
    heading : str
        As found.
    asked : dict of str to Question
        Where questions are added.
    known : mapping of str to str, optional
        Words that a plan has already.

    Returns
    -------
    dict of str to str
        By word as found; those that are ours already are left out.

    Examples
    --------
    >>> from scoring.contract import CHECK_BY_NAME
    >>> asked = {}
    >>> breather = CHECK_BY_NAME["breather"]
    >>> propose_words(["frei", "zu", "dunno"], "walkdowns.breather", breather, "Entlüfter", asked)
    {'frei': 'open', 'zu': 'plugged', 'dunno': '?walkdowns.breather.dunno'}
    >>> asked["walkdowns.breather.dunno"].choices
    ('open', 'plugged', '(nothing)')
    """
    if column.kind not in (Kind.CHOICE, Kind.SEVERAL):
        return _that_say_nothing(texts, column, known or {})
    found: dict[str, str] = {}
    told = {tidy(word) for word in known or {}}
    once = {
        tidy(word): word for word in reversed(words_of(texts, column)) if tidy(word) not in told
    }
    meanings = {word: meaning_of(word, column, heading) for word in reversed(once.values())}
    said = {m.word for m in meanings.values()} - {"", NOTHING}
    for word, meaning in meanings.items():
        if word in column.allowed:
            continue
        mark = not meaning.word and not any(c.isalnum() for c in word)
        if mark and len(said) >= MOST_ANSWERS:
            found[word] = NOTHING  # where others give several answers, a dash is none
            continue
        if meaning.word:
            found[word] = meaning.word
        else:
            found[word] = _ask(word, fills, column, heading, meaning, asked)
    return found


def _ask(  # noqa: PLR0913, PLR0917 - what is known of a word
    word: str, fills: str, column: Column, heading: str, meaning: Meaning, asked: Asked
) -> str:
    if meaning.yes_or_no:
        return _ask_of_yes(fills, column, heading, meaning, asked)
    key = f"{fills}.{word}"
    choices = (*(meaning.choices or column.allowed), NOTHING)
    asked.setdefault(
        key, Question(key, f"What does {word!r} under {heading!r} mean for {column.name}?", choices)
    )
    return OPEN + key


def _ask_of_yes(fills: str, column: Column, heading: str, meaning: Meaning, asked: Asked) -> str:
    """Ask once what yes means; no means the other of two."""
    key = f"{fills}.yes"
    if len(column.allowed) == 2 or meaning.yes_or_no == YES:
        asked.setdefault(
            key,
            Question(
                key, f"Under {heading!r}, what does yes mean for {column.name}?", column.allowed
            ),
        )
    if meaning.yes_or_no == YES:
        return OPEN + key
    if len(column.allowed) == 2:
        return OTHER + key
    key = f"{fills}.no"
    asked.setdefault(
        key,
        Question(key, f"Under {heading!r}, what does no mean for {column.name}?", column.allowed),
    )
    return OPEN + key


def _that_say_nothing(
    texts: Sequence[str], column: Column, known: Mapping[str, str]
) -> dict[str, str]:
    if not (column.is_numeric or column.kind is Kind.DATE):
        return {text: NOTHING for text in texts if tidy(text) in NULLS and text not in known}
    return {
        text: NOTHING
        for text in texts
        if text not in known and meaning_of(text, UNITS["seal_material"]).word == NOTHING
    }


def propose_done_words(
    texts: Sequence[str], key: str, heading: str, asked: Asked
) -> dict[str, str]:
    """Propose which words under a column of one re-work say that it was done."""
    found: dict[str, str] = {}
    for text in texts:
        meaning = meaning_of(text, UNITS["backstop"])
        if meaning.word == NOTHING:
            found[text] = NO
        elif meaning.word in YES_NO:
            continue
        else:
            whole = f"{key}.{text}"
            asked.setdefault(
                whole,
                Question(whole, f"Does {text!r} under {heading!r} say that it was done?", YES_NO),
            )
            found[text] = OPEN + whole
    return found
