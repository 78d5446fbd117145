"""Start the pages on this machine, and open them in a browser."""

import json
import os
import signal
import socket
import subprocess
import sys
import threading
import time
import webbrowser
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path
from types import FrameType

from scoring.drawing.look_tokens import DARK, LIGHT, SERIES, SIZES, SPACE, Tokens
from scoring.errors import FixableError

ADDRESS = "127.0.0.1"
PATIENCE_S = 60

STOPPED_WITHIN_S = 10
"""Then the server is killed; planning value of ours. [s]"""


def _listed(words: Iterable[str]) -> str:
    return json.dumps(list(words))


def _theme(name: str, tokens: Tokens) -> dict[str, str]:
    colours = {
        "primaryColor": tokens.action,
        "backgroundColor": tokens.ground,
        "secondaryBackgroundColor": tokens.raised,
        "textColor": tokens.ink,
        "linkColor": tokens.ink,
        "borderColor": tokens.rule,
        "dataframeBorderColor": tokens.rule,
        "dataframeHeaderBackgroundColor": tokens.raised,
        "dataframeHeaderTextColor": tokens.ink,
        "redTextColor": tokens.hold,
        "yellowTextColor": tokens.correct,
        "orangeTextColor": tokens.correct,
        "blueTextColor": tokens.watch,
        "greenTextColor": tokens.ink,
        "grayTextColor": tokens.quiet,
        "chartCategoricalColors": _listed(SERIES),
    }
    return {f"theme.{name}.{what}": colour for what, colour in colours.items()}


SETTINGS = {
    "server.headless": "true",
    "server.fileWatcherType": "none",
    "server.maxMessageSize": "50",
    "server.maxUploadSize": "20",
    "server.websocketPingInterval": "20",  # a phone's connection that is gone is seen sooner
    "browser.gatherUsageStats": "false",
    "client.toolbarMode": "minimal",
    "client.showErrorDetails": "none",
    "client.showErrorLinks": "false",
    "client.disableDataExport": "true",  # its files would bypass our disarming of formulas
    "runner.magicEnabled": "false",
    "theme.font": "sans-serif",  # what the machine has: nothing is fetched
    "theme.linkUnderline": "true",
    "theme.baseRadius": "2px",
    "theme.paddingTop": f"{2 * SPACE}px",
    "theme.paddingBottom": f"{8 * SPACE}px",
    "theme.headingFontSizes": _listed([f"{SIZES[at]}px" for at in (4, 3, 2, 1, 1, 1)]),
    "theme.headingFontWeights": "[600, 600, 600, 600, 600, 600]",
    "theme.metricValueFontSize": f"{SIZES[3]}px",
    **_theme("light", LIGHT),
    **_theme("dark", DARK),
}
"""Nothing leaves this machine: no statistics, no look-up of an address, no outside links."""


@dataclass(frozen=True)
class Reached:
    """How people reach the pages.

    Attributes
    ----------
    certificate, key : Path or None
        For https by the pages themselves.
    public_url : str
        The address of a server in front, or of these pages; empty where it is theirs alone.
    """

    certificate: Path | None = None
    key: Path | None = None
    public_url: str = ""

    @property
    def scheme(self) -> str:
        """How the pages themselves are asked."""
        return "http" if self.certificate is None else "https"

    @property
    def settings(self) -> dict[str, str]:
        """What the server is told of it."""
        if self.certificate is None or self.key is None:
            return {}
        return {"server.sslCertFile": str(self.certificate), "server.sslKeyFile": str(self.key)}


IN_CLEAR = Reached()
"""By the address of this machine, in clear."""


def serve(
    environment: dict[str, str],
    *,
    port: int,
    open_browser: bool,
    address: str = ADDRESS,
    reached: Reached = IN_CLEAR,
) -> int:
    """Start the pages and wait until they are stopped; they end with this process, however it ends.

    Parameters
    ----------
    environment : dict of str to str
        Tells the pages what to show.
    port : int
        Port on this machine; 0 for a free one.
    open_browser : bool
        Whether to open the pages in a browser.
    address : str
        Address of this machine on which the pages answer; by default only to this machine itself.
    reached : Reached
        How people reach them.

    Returns
    -------
    int
        Exit code of the server; 0 where it was stopped by a signal to this process.

    Raises
    ------
    FixableError
        If the port is taken.
    """
    port = port or _free_port()
    if _answers(_to_ask(address), port):
        raise FixableError(f"port {port} is taken; give another with --port")
    url = reached.public_url or f"{reached.scheme}://{_in_url(_to_ask(address))}:{port}"
    if open_browser:
        threading.Thread(
            target=_open_when_ready, args=(url, _to_ask(address), port), daemon=True
        ).start()
    sys.stdout.write(f"The pages are at {url} (stop with Ctrl+C)\n")
    sys.stdout.flush()
    with _stopped_by_signals():
        # Its input is held open by us alone: it sees that it closes, even if we are killed.
        process = subprocess.Popen(  # noqa: S603
            _command(address, port, reached),
            env={**os.environ, **environment},
            stdin=subprocess.PIPE,
        )
        try:
            return process.wait()
        except KeyboardInterrupt:
            _stop(process)
            return 0


@contextmanager
def _stopped_by_signals() -> Iterator[None]:
    """Have the signals that end a process be met like Ctrl+C, so that what it started ends too."""

    def stop(number: int, frame: FrameType | None) -> None:
        del number, frame
        raise KeyboardInterrupt

    names = ("SIGTERM", "SIGHUP", "SIGBREAK")  # not every system has each
    met = [getattr(signal, name) for name in names if hasattr(signal, name)]
    before = {number: signal.signal(number, stop) for number in met}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _stop(process: "subprocess.Popen[bytes]") -> None:
    process.terminate()
    try:
        process.wait(STOPPED_WITHIN_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


def _command(address: str, port: int, reached: Reached) -> list[str]:
    settings = [f"--{name}={value}" for name, value in {**SETTINGS, **reached.settings}.items()]
    return [
        sys.executable,
        "-P",  # what lies in the folder where the command was given is no part of us
        "-m",
        "dashboard.serve_pages",
        f"--server.address={address}",
        f"--server.port={port}",
        *settings,
    ]


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind((ADDRESS, 0))
        return int(probe.getsockname()[1])


def _to_ask(address: str) -> str:
    """Return the address by which this machine reaches itself."""
    found = ip_address(address)
    if not found.is_unspecified:
        return address
    return ADDRESS if found.version == 4 else "::1"


def _in_url(address: str) -> str:
    return f"[{address}]" if ":" in address else address


def _answers(address: str, port: int) -> bool:
    try:
        with socket.create_connection((address, port), 0.2):
            return True
    except OSError:
        return False


def _open_when_ready(url: str, address: str, port: int) -> None:
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end and not _answers(address, port):
        time.sleep(0.2)
    webbrowser.open(url)
