"""The chain of the history: each line is sealed together with all that came before it.

How a seal is made is a part of the layout of a store: it is never changed after a release.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from hashlib import sha256

from scoring.contract import FLEET_TABLES

PERSON_FIELDS = frozenset(
    {
        "by",
        "granted_by",
        "granted_to",
        "kept_by",
        "released_by",
        "signed_by",
        "started_by",
        "taken_by",
        "withdrawn_by",
    }
)
"""Where before and after name a person; the chain holds the person's key instead."""

OF_PEOPLE = "people"
"""What a line is about whose key is a name."""

LETTERS_OF_KEY = 32
"""Of a person's key; 128 bits."""

_HOLD_NO_PERSON = frozenset(table.name for table in FLEET_TABLES)
"""Records: their before and after are sealed as they are written."""

Line = Mapping[str, object]
Keys = Mapping[str, str]


def key_of_person(name: str, salt: str) -> str:
    """Return the key by which the chain knows a person.

    Parameters
    ----------
    name : str
        The name.
    salt : str
        Drawn by chance and kept beside the name: without it nobody can try names.

    Returns
    -------
    str
        32 hexadecimal digits.

    Examples
    --------
    >>> key_of_person("Ann Bell", "1") == key_of_person("Ann Bell", "2")
    False
    """
    return sha256(f"{salt}\n{name}".encode()).hexdigest()[:LETTERS_OF_KEY]


def key_of_subject(issuer: str, subject: str, salt: str) -> str:
    """Return what the chain holds in place of the subject by which a login knows a person.

    Parameters
    ----------
    issuer, subject : str
        Who vouches for the person, and by what they are known there.
    salt : str
        Of the person: with it goes, once erased, what could be tried against the key.

    Examples
    --------
    >>> key_of_subject("https://login", "1", "ab") == key_of_subject("https://login", "2", "ab")
    False
    """
    return key_of_person(f"{issuer}\n{subject}", salt)


def begin_of_chain(store_id: str, earlier: str) -> str:
    """Return the seal before the first line.

    Parameters
    ----------
    store_id : str
        Names the store.
    earlier : str
        Seal of the lines that are older than the chain.
    """
    return sha256(f"{store_id}\n{earlier}".encode()).hexdigest()


def seals(before: str, lines: Iterable[Line], keys: Keys) -> Iterator[str]:
    """Return the seal of each of some lines.

    Parameters
    ----------
    before : str
        The seal of the line before them.
    lines : iterable of mapping
        Columns of the history.
    keys : mapping of str to str
        Of each person who is named in them.

    Yields
    ------
    str
        64 hexadecimal digits.

    Examples
    --------
    >>> line = {"at": "2026", "actor": "Ann", "about": "units", "key": "U-1", "change": "added"}
    >>> first, second = seals("", [line, line], {"Ann": "0a"})
    >>> first == second
    False
    >>> [first] == list(seals("", [{**line, "key": "U-2"}], {"Ann": "0a"}))
    False
    """
    seal = before
    for line in lines:
        seal = sha256(f"{seal}\n{content_of(line, keys)}".encode()).hexdigest()
        yield seal


def content_of(line: Line, keys: Keys) -> str:
    """Return what is sealed of a line: all of it, persons by their keys."""
    about = line["about"]
    key = line["key"]
    sealed = [
        line["at"],
        keys.get(str(line["actor"]), ""),
        about,
        keys.get(str(key), "") if about == OF_PEOPLE else key,
        line.get("unit_id"),
        line["change"],
        line.get("version"),
        line.get("reason"),
        *(_without_names(line.get(side), str(about), keys) for side in ("before", "after")),
    ]
    return json.dumps(sealed, ensure_ascii=False, separators=(",", ":"))


def people_in(lines: Iterable[Line]) -> set[str]:
    """Return the names of all persons whom lines name."""
    names: set[str] = set()
    for line in lines:
        names.add(str(line["actor"]))
        about = str(line["about"])
        if about == OF_PEOPLE:
            names.add(str(line["key"]))
        for side in ("before", "after"):
            names.update(
                str(value)
                for name, value in _content(line.get(side), about).items()
                if _names_a_person(name, about) and value is not None
            )
    return names


def digest_of_rows(rows: Iterable[Sequence[object]]) -> str:
    """Return a name of the content of some rows in their order.

    Examples
    --------
    >>> digest_of_rows([("a", 1.5)]) == digest_of_rows([["a", 1.5]])
    True
    """
    said = json.dumps([list(row) for row in rows], ensure_ascii=False, separators=(",", ":"))
    return sha256(said.encode()).hexdigest()


def renamed(text: str, about: str, name: str, new: str) -> str:
    """Return before or after of a line with a person called otherwise."""
    content = {
        field: new if _names_a_person(field, about) and value == name else value
        for field, value in _content(text, about).items()
    }
    return _as_text(content) if content else text


def _without_names(text: object, about: str, keys: Keys) -> object:
    content = _content(text, about)
    if not content:
        return text
    return _as_text(
        {
            name: keys.get(str(value), "") if _names_a_person(name, about) and value else value
            for name, value in content.items()
        }
    )


def _content(text: object, about: str) -> dict[str, object]:
    """Return before or after of a line that may name a person; empty where it cannot."""
    if not isinstance(text, str) or about in _HOLD_NO_PERSON:
        return {}
    content: dict[str, object] = json.loads(text)
    return content


def _names_a_person(field: str, about: str) -> bool:
    return field in PERSON_FIELDS or (about == OF_PEOPLE and field == "name")


def _as_text(content: Mapping[str, object]) -> str:
    return json.dumps(content, ensure_ascii=False, separators=(",", ":"))
