"""Firefox, driven by WebDriver BiDi: it speaks that itself, over a websocket of its own.

Playwright starts it, but asks for a command that Debian's Firefox does not know.
"""

import json
import shutil
import subprocess
import time
from contextlib import ExitStack, suppress
from pathlib import Path
from typing import ClassVar

from hand_at_a_form import NotAnsweredError
from pages_server import PATIENCE_S, free_port, is_answered

PREFERENCES = {
    "browser.download.folderList": 2,
    "browser.download.useDownloadDir": True,
    "browser.download.alwaysOpenPanel": False,
    "browser.shell.checkDefaultBrowser": False,
    "browser.startup.page": 0,
    "app.update.enabled": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "dom.w3c_touch_events.enabled": 1,
}


class Firefox:
    """One page of a phone's size; what it complains of is noted."""

    packages = "firefox-esr"
    programs = (shutil.which("firefox-esr"),)
    cannot: ClassVar[dict[str, str]] = {}

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.complaints: list[str] = []
        self.version = "Firefox"
        self._asked = 0
        self._open = ExitStack()

    def start(self) -> None:
        from websockets.sync.client import connect  # noqa: PLC0415 - only where needed

        profile = self.folder / "profile"
        profile.mkdir()
        said = {**PREFERENCES, "browser.download.dir": str(self.folder)}
        lines = [f"user_pref({json.dumps(k)}, {json.dumps(v)});" for k, v in said.items()]
        (profile / "user.js").write_text("\n".join(lines), encoding="utf-8")
        port = free_port()
        self._process = subprocess.Popen(
            [
                self.programs[0], "--headless", "--no-remote", "--new-instance",
                "--profile", str(profile), f"--remote-debugging-port={port}", "about:blank",
            ],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            env={"HOME": str(self.folder), "PATH": "/usr/bin:/bin", "LANG": "C.UTF-8"},
        )  # fmt: skip
        end = time.monotonic() + PATIENCE_S
        while not is_answered(port):
            assert time.monotonic() < end, "Firefox does not answer"
            time.sleep(0.1)
        address = f"ws://127.0.0.1:{port}/session"
        self._socket = self._open.enter_context(connect(address, max_size=None))
        said = self._ask("session.new", capabilities={})["capabilities"]
        self.version = f"Firefox {said['browserVersion']}"
        self._ask("session.subscribe", events=["log.entryAdded"])
        (first,) = self._ask("browsingContext.getTree")["contexts"]
        self._page = first["context"]
        self._ask(
            "browsingContext.setViewport",
            context=self._page,
            viewport={"width": 390, "height": 844},
        )

    def _ask(self, method: str, **given: object) -> dict:
        """Send a command, and return what it gives; what is told meanwhile is noted."""
        self._asked += 1
        self._socket.send(json.dumps({"id": self._asked, "method": method, "params": given}))
        while True:
            said = json.loads(self._socket.recv(timeout=PATIENCE_S))
            if said.get("method") == "log.entryAdded" and said["params"]["type"] == "javascript":
                self.complaints.append(said["params"]["text"])
            if said.get("id") == self._asked:
                if said["type"] != "success":
                    raise NotAnsweredError(f"{method}: {said}")
                return said["result"]

    def open(self, address: str) -> None:
        self._ask("browsingContext.navigate", context=self._page, url=address, wait="complete")

    def reload(self) -> None:
        self._ask("browsingContext.reload", context=self._page, wait="complete")

    def run(self, function: str, *given: object) -> object:
        """Call a function in the page; both ways as JSON, for BiDi has a notation of its own."""
        said = self._ask(
            "script.callFunction",
            functionDeclaration=f"async (given) => JSON.stringify("
            f"await ({function})(...JSON.parse(given)) ?? null)",
            arguments=[{"type": "string", "value": json.dumps(given)}],
            target={"context": self._page},
            awaitPromise=True,
            userActivation=True,
        )
        if said["type"] != "success":
            raise NotAnsweredError(str(said))
        return json.loads(said["result"]["value"])

    def touch(self, x: float, y: float) -> None:
        self._act("pointer", [
            {"type": "pointerMove", "x": round(x), "y": round(y)},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ], parameters={"pointerType": "touch"})  # fmt: skip

    def type(self, text: str) -> None:
        self._act("key", [
            {"type": kind, "value": letter} for letter in text for kind in ("keyDown", "keyUp")
        ])  # fmt: skip

    def _act(self, kind: str, actions: list[dict], **about: object) -> None:
        source = {"type": kind, "id": kind, "actions": actions, **about}
        self._ask("input.performActions", context=self._page, actions=[source])

    def attach(self, css: str, file: Path) -> None:
        found = self._ask(
            "browsingContext.locateNodes",
            context=self._page,
            locator={"type": "css", "value": css},
        )
        element = {"sharedId": found["nodes"][0]["sharedId"]}
        self._ask("input.setFiles", context=self._page, element=element, files=[str(file)])

    def wait(self, seconds: float) -> None:
        time.sleep(seconds)

    def close(self) -> None:
        with suppress(AttributeError, OSError, NotAnsweredError):
            self._ask("browser.close")
            self._open.close()
            self._process.wait(timeout=PATIENCE_S)
        with suppress(AttributeError):
            self._process.kill()
            self._process.wait()
