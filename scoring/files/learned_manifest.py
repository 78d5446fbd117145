"""What stands beside a learned correction: from what, when and with what it was learned, and why.

``manifest.json`` is for a person to read and for a machine to refuse what does not belong together.
"""

import json
import platform
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from importlib.metadata import version

import numpy as np
import pandas as pd

from scoring.assessment import FleetLearning
from scoring.contract.events import MODES
from scoring.errors import FixableError
from scoring.files.json_entries import DIGEST, DIGEST_WORDS, Entries, refuse
from scoring.files.learned_from import LearnedFrom
from scoring.learning.handbook_fingerprint import handbook_fingerprint
from scoring.validation.choose_basis import Basis
from scoring.validation.which_is_better import Gain

SCHEMA, VERSION = "mount-risk learned fleet", 1
"""Name and version of the two files' make-up; the version rises when that changes."""

NAMES = (
    "schema",
    "schema_version",
    "as_of",
    "created_on",
    "versions",
    "records",
    "handbook_sha256",
    "learned_sha256",
    "failures",
    "manifest_sha256",
)
PROGRAMS = ("mount-risk", "python", "numpy", "pandas")
GAINS = ("likelihood", "proportions", "concordance")
ENDS = ("gain", "error")
_LONGEST_TEXT = 300
_TEXT = f".{{1,{_LONGEST_TEXT}}}"


@dataclass(frozen=True)
class Manifest:
    """What ``manifest.json`` says.

    Attributes
    ----------
    as_of : Timestamp
        The day up to which was learned.
    made_with : str
        Version of this tool that learned.
    records : LearnedFrom
        What was learned from.
    learned_sha256 : str
        Of ``learned.json``.
    basis : dict of str to Basis
        For each failure whether what was learned is used, why, and how it was tried; without what
        was learned.
    """

    as_of: pd.Timestamp
    made_with: str
    records: LearnedFrom
    learned_sha256: str
    basis: dict[str, Basis]


def manifest_to_plain(
    learning: FleetLearning, records: LearnedFrom, learned: bytes, created_on: pd.Timestamp
) -> dict[str, object]:
    """Turn all that stands beside a learned correction into plain data.

    Parameters
    ----------
    learning : FleetLearning
        What was learned.
    records : LearnedFrom
        From what.
    learned : bytes
        The file ``learned.json``.
    created_on : Timestamp
        Today.

    Returns
    -------
    dict
        Under ``NAMES``.
    """
    programs = (version("mount-risk"), platform.python_version(), np.__version__, pd.__version__)
    content: dict[str, object] = {
        "schema": SCHEMA,
        "schema_version": VERSION,
        "as_of": learning.as_of.date().isoformat(),
        "created_on": created_on.date().isoformat(),
        "versions": dict(zip(PROGRAMS, programs, strict=True)),
        "records": records.to_plain(),
        "handbook_sha256": handbook_fingerprint(),
        "learned_sha256": sha256(learned).hexdigest(),
        "failures": {mode: _basis(basis) for mode, basis in learning.basis.items()},
    }
    return content | {"manifest_sha256": _digest(content)}


def _basis(basis: Basis) -> dict[str, object]:
    gains: dict[str, Gain] = {name: getattr(basis, name) for name in GAINS}
    return {
        "used": bool(basis.used),
        "why": basis.why,
        "tried_on": int(basis.failures),
        **{
            name: {
                end: _or_null(value) for end, value in zip(ENDS, vars(gain).values(), strict=True)
            }
            for name, gain in gains.items()
        },
    }


def _or_null(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None


def manifest_from_plain(where: str, found: object) -> Manifest:
    """Turn plain data back into a manifest, after looking at all of it.

    Parameters
    ----------
    where : str
        The file.
    found : object
        From a file that anybody may have written.

    Returns
    -------
    Manifest

    Raises
    ------
    FixableError
        If it is of another kind or version, was changed, belongs to another handbook, or says
        something that it may not.
    """
    _check_schema(where, found)
    entries = Entries(where, found, NAMES)
    programs = entries.entries("versions", PROGRAMS)
    made_with, *_ = [programs.text(name, _TEXT, "a version") for name in PROGRAMS]
    if entries.text("handbook_sha256", DIGEST, DIGEST_WORDS) != handbook_fingerprint():
        raise FixableError(
            f"{where}: was learned beside another handbook, by version {made_with} of this tool; "
            f"this is version {version('mount-risk')}, whose effects, rates or columns differ"
        )
    of_failures = entries.entries("failures", MODES)
    _day(entries, "created_on")
    manifest = Manifest(
        _day(entries, "as_of"),
        made_with,
        LearnedFrom.from_plain(entries, "records"),
        entries.text("learned_sha256", DIGEST, DIGEST_WORDS),
        {mode: _basis_from_plain(mode, of_failures) for mode in MODES},
    )
    rest = {name: entries[name] for name in NAMES[:-1]}
    if entries.text("manifest_sha256", DIGEST, DIGEST_WORDS) != _digest(rest):
        raise FixableError(f"{where}: was changed after it was written")
    return manifest


def _basis_from_plain(mode: str, of_failures: Entries) -> Basis:
    found = of_failures.entries(mode, ("used", "why", "tried_on", *GAINS))
    gains = [found.entries(name, ENDS) for name in GAINS]
    return Basis(
        mode,
        None,
        found.flag("used"),
        found.text("why", _TEXT, f"a line of up to {_LONGEST_TEXT} characters"),
        found.whole("tried_on"),
        *(
            Gain(
                gain.number("gain", may_be_missing=True),
                gain.number("error", 0.0, may_be_missing=True),
            )
            for gain in gains
        ),
    )


def _check_schema(where: str, found: object) -> None:
    """Refuse what is not a manifest, or one of another version."""
    schema = found.get("schema") if isinstance(found, dict) else found
    if not isinstance(found, dict) or schema != SCHEMA:
        refuse(f"{where}, schema", schema, repr(SCHEMA))
    given = found.get("schema_version")
    if type(given) is not int or given < 1:
        refuse(f"{where}, schema_version", given, f"the whole number {VERSION}")
    if given != VERSION:
        age = "a newer version of this tool" if given > VERSION else "an older version of this tool"
        raise FixableError(
            f"{where}, schema_version: {given} is given, written by {age}; this one reads {VERSION}"
        )


def _day(entries: Entries, name: str) -> pd.Timestamp:
    allowed = "a day as 2026-03-31, from 1900 to 2199"
    text = entries.text(name, "(19|20|21)[0-9]{2}-[0-9]{2}-[0-9]{2}", allowed)
    try:
        return pd.Timestamp(date.fromisoformat(text))
    except ValueError:
        refuse(entries.at(name), text, allowed)


def _digest(content: dict[str, object]) -> str:
    return sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()
