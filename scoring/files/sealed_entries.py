"""What every file of something learned carries: kind, version, day, programs, handbook and seal."""

import json
import platform
from datetime import date
from hashlib import sha256
from importlib.metadata import version

import numpy as np
import pandas as pd

from scoring.errors import FixableError
from scoring.files.json_entries import DIGEST, DIGEST_WORDS, Entries, refuse
from scoring.learning.handbook_fingerprint import handbook_fingerprint

PROGRAMS = ("mount-risk", "python", "numpy", "pandas")
_LONGEST_LINE = 300
LINE, LINE_WORDS = f".{{1,{_LONGEST_LINE}}}", f"a line of up to {_LONGEST_LINE} characters"


def versions() -> dict[str, str]:
    """Return the versions of the programs that made a file."""
    ours = (version("mount-risk"), platform.python_version(), np.__version__, pd.__version__)
    return dict(zip(PROGRAMS, ours, strict=True))


def digest_of(content: dict[str, object]) -> str:
    """Return the seal of some content: its SHA-256 as JSON with sorted names."""
    return sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()


def check_schema(where: str, found: object, schema: str, ours: int) -> None:
    """Refuse what is of another kind, or of another version.

    Parameters
    ----------
    where : str
        The file.
    found : object
        What it says.
    schema : str
        The kind.
    ours : int
        The version.

    Raises
    ------
    FixableError
        If it is either.
    """
    given = found.get("schema") if isinstance(found, dict) else found
    if not isinstance(found, dict) or given != schema:
        refuse(f"{where}, schema", given, repr(schema))
    number = found.get("schema_version")
    if type(number) is not int or number < 1:
        refuse(f"{where}, schema_version", number, f"the whole number {ours}")
    if number != ours:
        age = "a newer version of this tool" if number > ours else "an older version of this tool"
        raise FixableError(
            f"{where}, schema_version: {number} is given, written by {age}; this one reads {ours}"
        )


def made_beside_this_handbook(entries: Entries) -> str:
    """Return the version of this tool that made a file; refuse one of another handbook.

    Raises
    ------
    FixableError
        If its handbook is not this one.
    """
    programs = entries.entries("versions", PROGRAMS)
    made_with, *_ = [programs.text(name, LINE, "a version") for name in PROGRAMS]
    if entries.text("handbook_sha256", DIGEST, DIGEST_WORDS) != handbook_fingerprint():
        raise FixableError(
            f"{entries.where}: was learned beside another handbook, by version {made_with} of this "
            f"tool; this is version {version('mount-risk')}, whose effects, rates or columns differ"
        )
    return made_with


def check_seal(entries: Entries, name: str) -> None:
    """Refuse what was changed after it was sealed.

    Raises
    ------
    FixableError
        If the seal that stands under the name is not that of all else.
    """
    rest = {key: value for key, value in entries.found.items() if key != name}
    if entries.text(name, DIGEST, DIGEST_WORDS) != digest_of(rest):
        raise FixableError(f"{entries.where}: was changed after it was written")


def day_of(entries: Entries, name: str) -> pd.Timestamp:
    """Return a day; refuse what is none."""
    allowed = "a day as 2026-03-31, from 1900 to 2199"
    text = entries.text(name, "(19|20|21)[0-9]{2}-[0-9]{2}-[0-9]{2}", allowed)
    try:
        return pd.Timestamp(date.fromisoformat(text))
    except ValueError:
        refuse(entries.at(name), text, allowed)
