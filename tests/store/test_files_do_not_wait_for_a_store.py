"""Who ranks files does not wait for what a store needs."""

import subprocess
import sys


def test_ranking_files_imports_no_database():
    script = (
        "import sys; from scoring.cli.main import cli\n"
        "cli(['rank', 'demo:small_quarry', '--as-of', '2026-06-30'], standalone_mode=False)\n"
        "wanted = {'sqlalchemy', 'alembic', 'psycopg', 'sqlite3', 'scipy', 'sklearn'}\n"
        "sys.exit(' '.join(wanted & set(sys.modules)) or None)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "units in service" in done.stdout
