"""The process that serves the pages: started by ``mount-risk dashboard``, and gone with it."""

import os
import signal
import socket
import sys
import threading
import time
from collections.abc import Sequence
from contextlib import suppress
from ipaddress import ip_address
from pathlib import Path

import uvicorn
from streamlit import config
from streamlit.web import bootstrap
from streamlit.web.cli import main_run

from dashboard.guard.patient_protocol import PatientProtocol, most_connections
from dashboard.guard.request_log import open_log

SERVER = Path(__file__).with_name("server.py")

GRACE_S = 3
"""How long what is being answered may take when the server ends; planning value of ours. [s]"""

LARGEST_MESSAGE = 4_000_000
"""Of what a page sends over its open connection: what was chosen, never a file. [bytes]"""


def main(arguments: Sequence[str]) -> None:
    """Serve the pages until told to stop, or until who started them is gone.

    Parameters
    ----------
    arguments : sequence of str
        Streamlit's settings, as ``--server.port=8501``.
    """
    threading.Thread(target=_end_with_who_started, daemon=True).start()
    _take_settings(arguments)
    open_log()
    address, port = str(config.get_option("server.address")), int(config.get_option("server.port"))
    with _listening(address, port) as listening:
        ping_s = int(config.get_option("server.websocketPingInterval") or 30)
        server = uvicorn.Server(
            uvicorn.Config(
                "dashboard.server:app",
                http=PatientProtocol,
                ws="websockets-sansio",
                ws_ping_interval=ping_s,
                ws_ping_timeout=ping_s,
                ws_max_size=LARGEST_MESSAGE,
                ws_per_message_deflate=False,
                ssl_certfile=config.get_option("server.sslCertFile"),
                ssl_keyfile=config.get_option("server.sslKeyFile"),
                server_header=False,
                access_log=False,
                log_level="warning",
                use_colors=False,
                timeout_graceful_shutdown=GRACE_S,
            )
        )
        with suppress(KeyboardInterrupt):
            server.run(sockets=[listening])
    _do_not_linger()


def _take_settings(arguments: Sequence[str]) -> None:
    """Read Streamlit's settings as its own command does."""
    given = main_run.make_context("run", [str(SERVER), *arguments]).params
    settings = {name: value for name, value in given.items() if name not in ("target", "args")}
    config._main_script_path = str(SERVER)  # noqa: SLF001 - as its own command does
    bootstrap.load_config_options(settings)


def _listening(address: str, port: int) -> socket.socket:
    """Return what listens, not passed on to any process that is started."""
    is_six = ip_address(address).version == 6
    try:
        return socket.create_server(
            (address, port),
            family=socket.AF_INET6 if is_six else socket.AF_INET,
            backlog=most_connections(),
            dualstack_ipv6=is_six and ip_address(address).is_unspecified,
        )
    except OSError as error:
        sys.exit(f"mount-risk: port {port} of {address} cannot be used ({error.strerror})")


def _end_with_who_started() -> None:
    """Wait until who started this process lets go of its end of our input; then end, too."""
    while os.read(sys.stdin.fileno(), 1024):
        pass
    os.kill(os.getpid(), signal.SIGTERM)
    _do_not_linger(2 * GRACE_S)


def _do_not_linger(patience_s: float = GRACE_S) -> None:
    """Have the process end, whatever its threads still work out."""

    def end() -> None:
        time.sleep(patience_s)
        os._exit(0)

    threading.Thread(target=end, daemon=True).start()


if __name__ == "__main__":
    main(sys.argv[1:])
