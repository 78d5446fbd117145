"""Chromium, driven by playwright: scripts, touches, keys and files, and nothing else."""

from pathlib import Path
from typing import ClassVar

from hand_at_a_form import NotAnsweredError
from quiet_chromium import CHROMIUM, QUIET


class Chromium:
    """One page of a phone's size; what it complains of is noted."""

    packages = "chromium"
    programs = (CHROMIUM,)
    cannot: ClassVar[dict[str, str]] = {}

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.complaints: list[str] = []
        self.version = "Chromium"

    def start(self) -> None:
        from playwright.sync_api import sync_playwright  # noqa: PLC0415 - only where needed

        self._playwright = sync_playwright().start()
        self._browser = self._playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        self.version = f"Chromium {self._browser.version}"
        context = self._browser.new_context(
            viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
        )
        self._page = context.new_page()
        self._page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self._page.on("download", lambda file: file.save_as(self.folder / file.suggested_filename))

    def open(self, address: str) -> None:
        self._page.goto(address)

    def reload(self) -> None:
        self._page.reload()

    def run(self, function: str, *given: object) -> object:
        from playwright.sync_api import Error  # noqa: PLC0415 - only where needed

        try:
            return self._page.evaluate(f"given => ({function})(...given)", list(given))
        except Error as error:
            raise NotAnsweredError(error.message) from error

    def touch(self, x: float, y: float) -> None:
        self._page.touchscreen.tap(x, y)

    def type(self, text: str) -> None:
        self._page.keyboard.type(text)

    def attach(self, css: str, file: Path) -> None:
        self._page.locator(css).set_input_files(file)

    def wait(self, seconds: float) -> None:
        self._page.wait_for_timeout(1000 * seconds)  # so that events come in

    def close(self) -> None:
        self._browser.close()
        self._playwright.stop()
