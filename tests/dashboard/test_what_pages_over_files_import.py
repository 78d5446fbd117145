"""Pages over files do not wait for a database, nor for what no ranking needs."""

import subprocess
import sys


def test_server_and_first_pages_import_neither_database_nor_scipy():
    script = (
        "import sys; import dashboard.server, dashboard.kept_by_name\n"
        "wanted = {'sqlalchemy', 'alembic', 'psycopg', 'sqlite3', 'scipy', 'sklearn'}\n"
        "sys.exit(' '.join(wanted & set(sys.modules)) or None)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_what_other_pages_import_is_there():
    script = (
        "from importlib import import_module\n"
        "from dashboard.worked_out_ahead import ALSO_ASKED_FOR\n"
        "from dashboard.walkdown.routes_when_asked import BEGIN, form_router\n"
        "for name in ALSO_ASKED_FOR: import_module(name)\n"
        "for route in form_router().routes:\n"
        "    assert any(route.path == b or route.path.startswith(b + '/') for b in BEGIN), route\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
