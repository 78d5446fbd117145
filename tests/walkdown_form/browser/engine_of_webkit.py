"""WebKit, driven by Debian's driver for it: WebDriver, which is JSON over HTTP.

Its small browser wants a screen; it gets one that nobody sees.
"""

import json
import os
import shutil
import subprocess
import time
from contextlib import suppress
from http.client import HTTPConnection
from pathlib import Path
from typing import ClassVar

from hand_at_a_form import NotAnsweredError
from pages_server import PATIENCE_S, free_port, is_answered

NOTE_COMPLAINTS = """() => {
  window.complaints = [];
  addEventListener('error', (event) => complaints.push(event.message));
  addEventListener('unhandledrejection', (event) => complaints.push(String(event.reason)));
}"""


class WebKit:
    """One page, as narrow as its window can be; what it complains of is noted."""

    packages = "webkit2gtk-driver xvfb"
    programs = (
        shutil.which("WebKitWebDriver"),
        shutil.which("Xvfb"),
        next((str(one) for one in Path("/usr/lib").glob("*/webkit2gtk-4.*/MiniBrowser")), None),
    )
    cannot: ClassVar[dict[str, str]] = {
        "touches": "the driver makes a mouse of them; all is pressed as by a mouse",
        "a width of 390 px": "its window is never narrower than about 450 px",
    }

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.complaints: list[str] = []
        self.version = "WebKit"
        self._session = ""
        self._begun: list[subprocess.Popen] = []

    def start(self) -> None:
        driver, screen, browser = self.programs
        display = f":{os.getpid() % 20_000 + 100}"
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        wide = [screen, display, "-screen", "0", "1280x1024x24", "-nolisten", "tcp"]
        self._begun.append(subprocess.Popen(wide, **quiet))
        around = {
            "DISPLAY": display, "HOME": str(self.folder), "XDG_RUNTIME_DIR": str(self.folder),
            "PATH": "/usr/bin:/bin", "LANG": "C.UTF-8", "GTK_A11Y": "none", "NO_AT_BRIDGE": "1",
            "WEBKIT_DISABLE_COMPOSITING_MODE": "1",  # there is no graphics card
        }  # fmt: skip
        self._port = free_port()
        driving = [driver, f"--port={self._port}", "--host=127.0.0.1"]
        self._begun.append(subprocess.Popen(driving, env=around, **quiet))
        end = time.monotonic() + PATIENCE_S
        while not (is_answered(self._port) and Path(f"/tmp/.X11-unix/X{display[1:]}").exists()):  # noqa: S108 - where X puts it
            assert time.monotonic() < end, "the driver of WebKit does not answer"
            time.sleep(0.1)
        options = {"binary": browser, "args": ["--automation"]}
        wanted = {"alwaysMatch": {"webkitgtk:browserOptions": options}}
        said = self._ask("POST", "", capabilities=wanted)
        self._session = f"/{said['sessionId']}"
        self.version = f"WebKitGTK {said['capabilities']['browserVersion']}"
        self._ask("POST", "/window/rect", width=390, height=844)

    def _ask(self, method: str, path: str, **given: object) -> object:
        connection = HTTPConnection("127.0.0.1", self._port, timeout=PATIENCE_S)
        body = json.dumps(given) if method == "POST" else None
        connection.request(method, f"/session{self._session}{path}", body)
        answer = connection.getresponse()
        said = json.loads(answer.read())["value"]
        connection.close()
        if answer.status >= 400:
            raise NotAnsweredError(f"{path}: {said}")
        return said

    def open(self, address: str) -> None:
        self._note()
        self._ask("POST", "/url", url=address)
        self.run(NOTE_COMPLAINTS)

    def reload(self) -> None:
        self._note()
        self._ask("POST", "/refresh")
        self.run(NOTE_COMPLAINTS)

    def _note(self) -> None:
        self.complaints += self.run("() => window.complaints || []")

    def run(self, function: str, *given: object) -> object:
        script = (
            "const done = arguments[arguments.length - 1];"
            f"Promise.resolve(({function})(...arguments[0])).then((said) => done([said ?? null]),"
            " (error) => done(String(error)))"
        )
        said = self._ask("POST", "/execute/async", script=script, args=[list(given)])
        if not isinstance(said, list):
            raise NotAnsweredError(str(said))
        return said[0]

    def touch(self, x: float, y: float) -> None:
        self._act("pointer", [
            {"type": "pointerMove", "duration": 0, "x": round(x), "y": round(y)},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ], parameters={"pointerType": "mouse"})  # fmt: skip

    def type(self, text: str) -> None:
        self._act("key", [
            {"type": kind, "value": letter} for letter in text for kind in ("keyDown", "keyUp")
        ])  # fmt: skip

    def _act(self, kind: str, actions: list[dict], **about: object) -> None:
        self._ask(
            "POST", "/actions", actions=[{"type": kind, "id": kind, "actions": actions, **about}]
        )

    def attach(self, css: str, file: Path) -> None:
        (element,) = self._ask("POST", "/element", using="css selector", value=css).values()
        self._ask("POST", f"/element/{element}/value", text=str(file))

    def wait(self, seconds: float) -> None:
        time.sleep(seconds)

    def close(self) -> None:
        with suppress(OSError, NotAnsweredError):
            if self._session:
                self._note()
                self._ask("DELETE", "")
        for process in reversed(self._begun):
            process.terminate()
            process.wait(timeout=PATIENCE_S)
