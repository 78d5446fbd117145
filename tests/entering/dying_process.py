"""Something written in a process of its own, which dies at a point; imports are made once."""

import multiprocessing
import os
import sys
from types import ModuleType
from unittest.mock import patch

IMPORTED_ONCE = [
    "dashboard.kept_by_name",
    "dashboard.kept_in_store",
    "dashboard.walkdown.http_routes",
    "alembic.command",
    "psycopg",
    "scoring.cli.export_command",
    "scoring.cli.load_command",
    "scoring.cli.main",
    "scoring.cli.offline_command",
    "scoring.cli.rank_command",
    "scoring.cli.sheet_command",
    "scoring.cli.template_command",
    "scoring.store.restore_backup",
    "scoring.store.verified",
]
"""Modules of these tests cannot be named here: where they lie is told to each process later."""


def write_and_die(name, asked, deadly=0):
    """Write something in one of the ways; the process dies at a point, or, with 0, not at all.

    Returns
    -------
    list of str or None
        The names of the points, if it was acknowledged: all that were passed by then.
    """
    starter = multiprocessing.get_context("forkserver")
    starter.set_forkserver_preload(IMPORTED_ONCE)
    here, there = starter.Pipe(duplex=False)
    process = starter.Process(target=_write, args=(name, asked, deadly, there))
    # Pages in Streamlit's harness leave their script as the main one, which a child would run.
    with patch.dict(sys.modules, {"__main__": ModuleType("__main__")}):
        process.start()
    there.close()
    with here:
        try:
            kind, said = here.recv()
        except EOFError:
            kind, said = "died", None
    process.join()
    assert kind != "failed", said
    return said


def _write(name, asked, deadly, there):
    import traceback  # noqa: PLC0415 - in the process that writes

    from points_in_writing import Points  # noqa: PLC0415
    from writing_operations import ALL  # noqa: PLC0415

    sys.stdout = sys.stderr = open(os.devnull, "w")  # noqa: PTH123, SIM115 - until its end
    os.environ["MOUNT_RISK_FLEET"] = asked.url
    points = Points(deadly)
    points.install()
    points.arm()
    try:
        ALL[name](asked)
    except BaseException:  # noqa: BLE001 - told to who started it
        there.send(("failed", traceback.format_exc()))
        return
    there.send(("acknowledged", points.names))
