"""A phone in the hand: taps, typing, and what the screen says."""

import json
import time
from collections.abc import Callable
from pathlib import Path

SIZES = {390: 844, 820: 1180}

PATIENCE_S = 120
"""How long a screen may take on a busy machine; on a quiet one it is there at once. [s]"""


def settings_of(width: int, scheme: str = "light") -> dict:
    return {
        "viewport": {"width": width, "height": SIZES[width]},
        "has_touch": True,
        "is_mobile": width == 390,
        "color_scheme": scheme,
        "accept_downloads": True,
    }


class Phone:
    """One page of a browser; every request that leaves it and every complaint is noted."""

    def __init__(self, page) -> None:
        self.page = page
        self.asked: list[str] = []
        self.complaints: list[str] = []
        page.set_default_timeout(1000 * PATIENCE_S)
        page.on("request", self._note)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("console", self._complaint)

    def _note(self, request) -> None:
        if not request.url.startswith(("data:", "blob:", "file:")):
            self.asked.append(request.url)

    def _complaint(self, message) -> None:
        if message.type in {"error", "warning"} and "Failed to load resource" not in message.text:
            self.complaints.append(message.text)

    def open(self, address: str) -> None:
        self.page.goto(address)
        self.page.wait_for_selector("h1")

    def find(self, key: str):
        return self.page.locator(f'[data-key="{key}"]')

    def tap(self, key: str) -> None:
        self.find(key).tap()
        self.page.evaluate("() => new Promise(requestAnimationFrame)")  # until it is drawn

    def write(self, key: str, text: str) -> None:
        self.find(key).fill(text)

    def has(self, key: str) -> bool:
        return self.find(key).count() > 0

    @property
    def title(self) -> str:
        return self.page.locator("h1").inner_text()

    @property
    def words(self) -> str:
        return self.page.locator("body").inner_text()

    @property
    def state(self) -> str:
        return self.page.locator(".state").inner_text()

    def until(self, is_so: Callable[[], bool]) -> None:
        """Wait until something is so; the page's own policy forbids the usual way to ask."""
        end = time.monotonic() + PATIENCE_S
        while not is_so():
            assert time.monotonic() < end, self.words
            self.page.wait_for_timeout(30)

    def wait_for(self, words: str) -> None:
        self.until(lambda: words in self.words)

    def wait_until_saved(self) -> None:
        self.until(lambda: self.state.startswith("✓ saved "))

    def go(self, place: str) -> None:
        """Go to a place as by a link; the last part of the address, or all of it."""
        where = place if place.startswith("#") else self.page.url.rsplit("/", 1)[0] + "/" + place
        self.page.evaluate("place => { location.hash = place.slice(place.indexOf('#')); }", where)
        self.page.evaluate("() => new Promise(requestAnimationFrame)")

    def begin(
        self, unit_id: str, state: str, name: str = "Kim Aster", *, kind: str = "post_install"
    ) -> None:
        """Go through the start of a walkdown, from the route or from its own page."""
        if self.has(f"unit={unit_id}"):
            self.tap(f"unit={unit_id}")
        self.tap(f"kind={kind}")
        self.tap(f"machine_state={state}")
        self.write("inspector", name)
        self.tap("begin")

    def give(self, step: dict, value: str) -> None:
        """Answer the check in sight, and confirm if it is asked."""
        if step["options"]:
            self.tap(f"answer={value}")
            return
        self.write("answer", value)
        self.page.keyboard.press("Tab")
        self.page.evaluate("() => new Promise(requestAnimationFrame)")

    def go_on(self) -> None:
        before = self.page.url
        self.tap("next")
        if self.has("confirm"):
            self.tap("confirm")
            self.tap("next")
        assert self.page.url != before

    def copy(self, folder: Path) -> Path:
        """Save a copy of the route, and return the file."""
        with self.page.expect_download() as begun:
            self.tap("save-copy")
        path = folder / begun.value.suggested_filename
        begun.value.save_as(path)
        return path


def walkdowns_in(copy: Path) -> dict[str, dict]:
    """Return the walkdowns of a copy, by unit."""
    return {one["unit_id"]: one for one in json.loads(copy.read_text())["walkdowns"]}


def steps_seen(unit: dict, seen: set[str], kind: str = "post_install") -> list[dict]:
    """Return what is asked of a unit in some states of the machine, on a visit of some kind."""
    return [
        step
        for step in unit["steps"]
        if step["seen"] in seen and kind in (step["asked_on"] or [kind])
    ]


def good_value(step: dict) -> str:
    """Return an answer to a step that needs no question."""
    if step["options"]:
        return next(one["value"] for one in step["options"] if one["good"])
    low, high = None, None
    for limits in (step["plausible"], step["usual"]):
        if limits and limits["low"] is not None:
            low = limits["low"] if low is None else max(low, limits["low"])
        if limits and limits["high"] is not None:
            high = limits["high"] if high is None else min(high, limits["high"])
    if low is not None and high is not None:
        middle = (low + high) / 2
    else:
        middle = low if low is not None else high if high is not None else 1.0
    return f"{middle:.0f}" if step["kind"] == "count" else f"{middle:.6g}"
