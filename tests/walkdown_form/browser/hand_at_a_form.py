"""A hand at the form in any engine: it finds what it wants, presses it where it is, and types.

An engine opens, runs a function in the page, touches a point, types and attaches a file; all
else is made of these, so that every engine is asked the same.
"""

import json
import time
from contextlib import suppress
from pathlib import Path

from phone import PATIENCE_S

FIND = "(css) => document.querySelectorAll(css).length"
WHERE = """(css) => {
  const one = document.querySelector(css);
  if (!one) return null;
  one.scrollIntoView({block: 'center', inline: 'nearest', behavior: 'instant'});
  const box = one.getBoundingClientRect();
  const at = [box.x + box.width / 2, box.y + box.height / 2];
  const hit = document.elementFromPoint(...at);
  return hit && (one === hit || one.contains(hit) || hit.contains(one)) ? at : null;
}"""
EMPTY = "(css) => { const one = document.querySelector(css); one.focus(); one.select(); }"
TEXT = "(css) => { const one = document.querySelector(css); return one ? one.innerText : ''; }"
ATTRIBUTE = "(css, name) => document.querySelector(css)?.getAttribute(name) ?? null"
DRAWN = "() => new Promise((done) => requestAnimationFrame(() => setTimeout(() => done(0))))"


class NotAnsweredError(Exception):
    """A page did not answer, as while another one is opened in its place."""


def key(name: str) -> str:
    return f'[data-key="{name}"]'


class Hand:
    """What a person does at the page of an engine, and what the screen says."""

    def __init__(self, engine) -> None:
        self.engine = engine

    def open(self, address: str) -> None:
        self.engine.open(address)
        self.until(lambda: self.count("h1") > 0)

    def count(self, css: str) -> int:
        return self.engine.run(FIND, css)

    def has(self, name: str) -> bool:
        return self.count(key(name)) > 0

    def press(self, css: str) -> None:
        """Touch the middle of what is found, once nothing lies over it."""
        found = []
        self.until(lambda: bool(found.append(self.engine.run(WHERE, css)) or found[-1]))
        self.engine.touch(*found[-1])
        self._until_drawn()

    def _until_drawn(self) -> None:
        with suppress(NotAnsweredError):  # the press may have led to another page
            self.engine.run(DRAWN)

    def tap(self, name: str) -> None:
        self.press(key(name))

    def write(self, css: str, text: str) -> None:
        """Type in place of what stands in a field, and leave it."""
        self.press(css)
        self.engine.run(EMPTY, css)
        self.engine.type(text)
        self.engine.run("() => document.activeElement.blur()")
        self._until_drawn()

    def text(self, css: str = "body") -> str:
        return self.engine.run(TEXT, css)

    @property
    def title(self) -> str:
        return self.text("h1")

    def attribute(self, name: str, attribute: str) -> str | None:
        return self.engine.run(ATTRIBUTE, key(name), attribute)

    def pressed(self, name: str) -> bool:
        return self.attribute(name, "aria-pressed") == "true"

    def until(self, is_so) -> None:
        end = time.monotonic() + PATIENCE_S
        while True:
            said = ""
            try:
                if is_so():
                    return
            except NotAnsweredError as error:
                said = str(error)
            assert time.monotonic() < end, said or self.text()
            self.engine.wait(0.03)

    def wait_until_saved(self) -> None:
        self.until(lambda: self.text(".state").startswith("✓ saved "))

    def begin(self, state: str, name: str) -> None:
        """Go through the start of a walkdown after a hanging."""
        self.tap("kind=post_install")
        self.tap(f"machine_state={state}")
        self.write(key("inspector"), name)
        self.tap("begin")

    def give(self, step: dict, value: str, heading: str | None = None) -> None:
        """Answer the check in sight; a number in the unit of its heading."""
        if step["options"]:
            self.tap(f"answer={value}")
            return
        if heading is not None:
            self.tap(f"unit={heading}")
        self.write(key("answer"), value)

    def go_on(self) -> None:
        before = self.title
        self.tap("next")
        if self.has("confirm"):
            self.tap("confirm")
            self.tap("next")
        self.until(lambda: self.title != before)

    def photograph(self, file: Path) -> None:
        self.engine.attach(key("photo"), file)
        self.until(lambda: self.count("figure img") > 0)
        self.until(lambda: self.engine.run(
            "() => document.querySelector('figure img').naturalWidth > 0"
        ))  # fmt: skip

    def save_copy(self) -> Path:
        """Save a copy of the route, and return the file."""
        self.tap("save-copy")
        folder = self.engine.folder
        self.until(lambda: any(is_whole(one) for one in folder.glob("*.json")))
        (copy,) = folder.glob("*.json")
        return copy


def is_whole(file: Path) -> bool:
    """Tell whether a file has been written to its end: a browser makes it empty first."""
    with suppress(json.JSONDecodeError, UnicodeDecodeError):
        return bool(json.loads(file.read_text(encoding="utf-8")))
    return False
