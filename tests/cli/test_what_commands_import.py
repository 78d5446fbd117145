"""A command imports what it uses: counted by modules, for a clock tells of other work, too."""

import subprocess
import sys

import pytest

HEAVY = {
    "altair",
    "distributed",
    "joblib",
    "openpyxl",
    "PIL",
    "scipy",
    "sklearn",
    "sqlalchemy",
    "streamlit",
    "typst",
}
TABLES = {"numpy", "pandas", "pyarrow"}
"""What any command needs that looks at records."""

QUARRY = ["demo:small_quarry"]


def imported_by(*words):
    script = (
        "import sys; from scoring.cli.main import cli\n"
        f"cli({list(words)!r}, standalone_mode=False)\n"
        "print('\\n' + ' '.join(sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return set(done.stdout.splitlines()[-1].split())


def test_help_imports_no_table():
    assert not imported_by("--help") & (HEAVY | TABLES | {"rich"})


@pytest.mark.parametrize(
    "words", [["check"], ["rank", "--as-of", "2026-06-30"]], ids=lambda words: words[0]
)
def test_what_looks_at_records_imports_tables_alone(words):
    imported = imported_by(words[0], *QUARRY, *words[1:])
    assert imported >= TABLES
    assert not imported & HEAVY


def test_a_workbook_is_what_needs_more(tmp_path):
    where = str(tmp_path / "ranking.xlsx")
    rank = ["rank", *QUARRY, "--as-of", "2026-06-30", "--handbook-only", "--out", where]
    assert imported_by(*rank) & HEAVY == {"openpyxl", "PIL"}
