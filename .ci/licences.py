"""Write down the licence of everything that runs with the program: ``python .ci/licences.py``.

The table, ``.ci/licences.csv``, has each package that an installation with all that a user may add
brings (a store on PostgreSQL, work on other machines), with the versions in ``constraints.txt`` and
the licence that the installed package states of itself. A test compares it with what is installed.
"""

import csv
import sys
from importlib.metadata import PackageMetadata, distribution, metadata
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parent.parent
KEPT = ROOT / ".ci" / "licences.csv"
OURS = Requirement("mount-risk[cluster,postgresql]")

Row = tuple[str, str, str]
"""Name, versions, licence."""


def licences() -> list[Row]:
    """Return name, versions and licence of each package that runs with ours, in order."""
    pinned = versions()
    return [(name, pinned[name], licence(metadata(name))) for name in sorted(needed(OURS))]


def needed(requirement: Requirement) -> set[str]:
    """Return the names of all that a package brings here, itself left out."""
    found: set[str] = set()
    waiting, seen = [requirement], set[tuple[str, str]]()
    while waiting:
        one = waiting.pop()
        for extra in ("", *sorted(one.extras)):
            if (one.name, extra) in seen:
                continue
            seen.add((one.name, extra))
            for text in distribution(one.name).requires or ():
                brought = Requirement(text)
                if brought.marker is None or brought.marker.evaluate({"extra": extra}):
                    found.add(canonicalize_name(brought.name))
                    waiting.append(brought)
    return found - {canonicalize_name(requirement.name)}


def versions() -> dict[str, str]:
    """Return the versions that ``constraints.txt`` pins: of some another for each Python."""
    pinned: dict[str, str] = {}
    for line in (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines():
        one = Requirement(line)
        version = str(one.specifier).removeprefix("==")
        name = canonicalize_name(one.name)
        pinned[name] = f"{pinned[name]} or {version}" if name in pinned else version
    return pinned


def licence(about: PackageMetadata) -> str:
    """Return what a package states of its licence: an SPDX expression, else its classifiers."""
    if "License-Expression" in about:
        return about["License-Expression"]
    classes = [
        str(line).rpartition(" :: ")[2]
        for line in about.get_all("Classifier") or ()
        if str(line).startswith("License :: ")
    ]
    text = about["License"].strip().partition("\n")[0] if "License" in about else ""
    return "; ".join(one for one in classes if one != "OSI Approved") or text or "not stated"


def kept() -> list[Row]:
    """Return the rows of the table as it is kept."""
    with KEPT.open(encoding="utf-8", newline="") as file:
        return [(row["package"], row["versions"], row["licence"]) for row in csv.DictReader(file)]


def main() -> int:
    """Write the table; return an exit status."""
    with KEPT.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["package", "versions", "licence"])
        writer.writerows(licences())
    print(f"{len(kept())} packages in {KEPT.relative_to(ROOT)}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
