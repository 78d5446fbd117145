"""Look up known vulnerabilities of everything in constraints.txt: ``python .ci/audit.py``.

Runs pip-audit from an environment of its own, which needs a package index and, for what is known of
each version, the index's own record or that of another service (``--service osv``). What cannot be
reached is said, and is no failure; a finding that nobody answered in ``ANSWERED`` is one.
"""

import argparse
import json
import subprocess
import sys
import tempfile
import venv
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent

ANSWERED: dict[str, str] = {}
"""Why a finding does not touch us, by its id."""


@dataclass(frozen=True)
class Audit:
    """What is known of the versions that are pinned.

    Attributes
    ----------
    audited : int
        Packages of which something could be looked up.
    unknown : tuple[str, ...]
        Packages that the service does not know.
    findings : dict of str to str
        Vulnerabilities by their id: package, version, and which version mends it.
    """

    audited: int
    unknown: tuple[str, ...]
    findings: dict[str, str]

    @property
    def unanswered(self) -> list[str]:
        """Ids of findings without an answer."""
        return sorted(set(self.findings) - set(ANSWERED))


def read(report: str) -> Audit:
    """Read what pip-audit says as JSON.

    Examples
    --------
    >>> one = '{"name": "a", "version": "1", "vulns": [{"id": "X-1", "fix_versions": ["2"]}]}'
    >>> read('{"dependencies": [%s, {"name": "b", "skip_reason": "not found"}]}' % one)
    Audit(audited=1, unknown=('b',), findings={'X-1': 'a 1, mended in 2'})
    """
    packages: list[dict[str, Any]] = json.loads(report)["dependencies"]
    known = [one for one in packages if "skip_reason" not in one]
    return Audit(
        len(known),
        tuple(one["name"] for one in packages if "skip_reason" in one),
        {
            found["id"]: f"{one['name']} {one['version']}, "
            f"mended in {' or '.join(found['fix_versions']) or 'no version yet'}"
            for one in known
            for found in one["vulns"]
        },
    )


def main() -> int:
    """Look everything up, tell what was found, and return how many findings nobody answered."""
    parser = argparse.ArgumentParser(description="Which pinned versions are known to be unsafe?")
    parser.add_argument("--service", default="pypi", choices=("pypi", "osv"))
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        python = next(Path(folder).glob("[bS]*/python*"))
        got = subprocess.run([python, "-m", "pip", "install", "-q", "pip-audit"], check=False)
        if got.returncode != 0:
            print("not audited: pip-audit cannot be installed from here; try with a network")
            return 0
        words = ["--no-deps", "--disable-pip", "--format", "json", "--vulnerability-service"]
        done = subprocess.run(
            [python, "-m", "pip_audit", "-r", ROOT / "constraints.txt", *words, asked.service],
            check=False,
            capture_output=True,
            text=True,
        )
    if not done.stdout.startswith("{"):
        print(f"not audited: {asked.service} cannot be asked from here; try with a network")
        print(done.stderr.strip().rpartition("\n")[2])
        return 0
    return tell(read(done.stdout))


def tell(audit: Audit) -> int:
    """Tell what was found; return how many findings nobody answered."""
    for name, words in audit.findings.items():
        print(f"{name}: {words}. {ANSWERED.get(name, 'NOT ANSWERED')}")
    print(
        f"{audit.audited} packages audited, {len(audit.findings)} findings, "
        f"{len(audit.unanswered)} not answered"
    )
    if audit.unknown:
        print(f"{len(audit.unknown)} not audited: the service at hand knows nothing of them")
    return len(audit.unanswered)


if __name__ == "__main__":
    sys.exit(main())
