"""Each kind of click on each page in a browser, from the click to the settled page."""

import re
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

COUNT_RUNS = """(() => {
  window.pageRuns = 0;
  const look = () => {
    const app = document.querySelector('[data-testid=stApp]');
    if (!app) return requestAnimationFrame(look);
    if (app.dataset.testScriptState !== 'notRunning') window.pageRuns += 1;
    new MutationObserver(() => {
      if (app.dataset.testScriptState !== 'notRunning') window.pageRuns += 1;
    }).observe(app, {attributes: true, attributeFilter: ['data-test-script-state']});
  };
  look();
})()"""
SETTLED = """(before) => {
  const app = document.querySelector('[data-testid=stApp]');
  return app && window.pageRuns > before && app.dataset.testScriptState === 'notRunning'
    && !document.querySelector('.stale-element, [data-stale=true]')
    && document.body.innerText.includes('Before any work: lock out');
}"""
PAGES = {
    "Start": "/", "What to fix first": "/fix", "One unit": "/unit?unit={unit}",
    "What to do in a shutdown": "/plan", "Where to look next": "/look",
    "Is it getting better": "/trend", "How far to trust it": "/trust", "Walkdowns": "/walkdowns",
}  # fmt: skip

STILL = "still rest on the handbook alone"
COMES_IN_LATER = "another day, learned"
"""A page that can be read before: no aim is set for what comes in by itself."""


@dataclass
class Timing:
    """A page and a kind of click, the seconds of each click, and what went wrong.

    Beside the seconds on the clock stand those that the server used a processor: they say little of
    how busy the machine is otherwise.
    """

    page: str
    kind: str
    seconds: list[float]
    worked: list[float]
    trouble: str = ""


class Clicker:
    """A browser's page at the address of a fleet, some units of which are known."""

    def __init__(
        self, page, address: str, units: list[str], clicks: int, worked_s: Callable[[], float]
    ) -> None:
        self.page, self.address, self.units, self.clicks = page, address, units, clicks
        self.worked_s = worked_s
        page.set_default_timeout(20_000)
        page.add_init_script(COUNT_RUNS)

    def opened(self, path: str) -> float:
        """Open an address, and return the seconds until it has settled."""
        begun = time.perf_counter()
        self.page.goto(self.address + path.format(unit=self.units[0]))
        self.page.wait_for_function(SETTLED, arg=0)
        return time.perf_counter() - begun

    def timed(self, act: Callable[[], None]) -> float:
        """Act, and return the seconds until the page has settled."""
        before = self.page.evaluate("window.pageRuns")
        begun = time.perf_counter()
        act()
        self.page.wait_for_function(SETTLED, arg=before)
        return time.perf_counter() - begun

    def every_kind(self) -> Iterator[Timing]:
        """Give each page's times, opened and clicked."""
        for name, path in PAGES.items():
            yield self._repeat(name, "opened", path, lambda _, path=path: self.opened(path))
        for page, kind, click in self._kinds():
            path = PAGES[page]
            yield self._repeat(page, kind, path, click)

    def _repeat(self, page: str, kind: str, path: str, click: Callable[[int], float]) -> Timing:
        timing = Timing(page, kind, [], [])
        try:
            self.opened(path)
            for number in range(self.clicks):
                before = self.worked_s()
                timing.seconds.append(click(number))
                timing.worked.append(self.worked_s() - before)
                self.page.get_by_text(STILL).wait_for(state="detached", timeout=120_000)
        except Exception as error:  # noqa: BLE001 - one kind that fails leaves the others
            timing.trouble = str(error).split("\n")[0]
        return timing

    def _kinds(self) -> list[tuple[str, str, Callable[[int], float]]]:
        fix, unit = "What to fix first", "One unit"
        plan, look = "What to do in a shutdown", "Where to look next"
        return [
            (fix, "search", lambda n: self._typed("textbox", "search", ["clamped", ""][n % 2])),
            (fix, "filter by verdict", self._filter),
            (fix, "another order", lambda n: self._chosen("in the order of", n)),
            (fix, "next rows", lambda n: self._chosen("rows", n)),
            (fix, "a unit of the list", self._unit_of_list),
            (fix, "another page", self._other_page),
            (fix, "another day, by link", self._day),
            (fix, COMES_IN_LATER, self._day_learned),
            (fix, "further ahead", self._ahead),
            (unit, "find another unit", self._find),
            (plan, "other hours", lambda n: self._hours("crew-hours", 16 + 8 * (n % 30))),
            (plan, "another choice", self._choice),
            (plan, "leave a job out", self._leave_out),
            (look, "other hours", lambda n: self._hours("inspector-hours at each site", 4 + n)),
        ]

    def _field(self, role: str, name: str):
        found = self.page.get_by_role(role, name=name).first
        folded = self.page.get_by_text("· change").first
        found.or_(folded).first.wait_for()
        if not found.is_visible():
            folded.click()
            found.wait_for()
        return found

    def _typed(self, role: str, name: str, text: str) -> float:
        box = self._field(role, name)

        def act() -> None:
            box.fill(text)
            box.press("Enter")

        return self.timed(act)

    def _hours(self, name: str, hours: float) -> float:
        return self._typed("spinbutton", name, str(hours))

    def _filter(self, number: int) -> float:
        box = self._field("combobox", "verdict")
        if number % 2:
            box.focus()
            return self.timed(lambda: box.press("Backspace"))
        box.click()
        option = self.page.get_by_role("option", name=re.compile("hold")).first
        option.wait_for()
        seconds = self.timed(option.click)
        box.press("Escape")
        return seconds

    def _chosen(self, name: str, number: int) -> float:
        self._field("combobox", name).click()
        options = self.page.get_by_role("option")
        options.first.wait_for()
        return self.timed(options.nth(1 + number % 2).click)

    def _unit_of_list(self, number: int) -> float:
        link = self.page.locator("table.units tbody th a").nth(number % 40)
        link.wait_for()
        before = self._before()
        begun = time.perf_counter()
        link.click()
        self.page.wait_for_url("**/unit?*")
        self._wait_after(before)
        seconds = time.perf_counter() - begun
        self.page.go_back()
        self.page.locator("table.units tbody th a").first.wait_for()
        self.page.wait_for_function(SETTLED, arg=0)
        return seconds

    def _before(self) -> int:
        """Return how often the page has run, and mark it, so that one opened anew is told."""
        return self.page.evaluate("(window.wasThere = true, window.pageRuns)")

    def _wait_after(self, before: int) -> None:
        """Wait until the page has settled, whether it was opened anew or only changed."""
        anew = not self.page.evaluate("window.wasThere")
        self.page.wait_for_function(SETTLED, arg=0 if anew else before)

    def _other_page(self, number: int) -> float:
        name = list(PAGES)[1:6][number % 5]
        name = "What to fix first" if number % 2 else name.replace("What to fix first", "Start")
        link = self.page.get_by_role("link", name=name, exact=True).first
        return self.timed(link.click)

    def _day(self, number: int) -> float:
        return self.opened(f"/fix?as_of=2026-06-{1 + number % 29:02d}")

    def _day_learned(self, number: int) -> float:
        begun = time.perf_counter()
        self.opened(f"/fix?as_of=2026-05-{1 + number % 29:02d}")
        self.page.get_by_text("Chances and losses rest on:").wait_for()
        return time.perf_counter() - begun

    def _ahead(self, number: int) -> float:
        self.page.get_by_role("button", name="change", exact=True).first.click()
        choices = self.page.get_by_test_id("stPopoverBody").locator("[role=radiogroup] label")
        choices.first.wait_for()
        seconds = self.timed(choices.nth(number % choices.count()).click)
        self.page.keyboard.press("Escape")
        self.page.get_by_test_id("stPopoverBody").wait_for(state="hidden")
        return seconds

    def _find(self, number: int) -> float:
        unit = self.units[1 + number % (len(self.units) - 1)]
        begun = time.perf_counter()
        self._typed("textbox", "find a unit", unit)  # which runs the page it leaves, and the unit's
        self.page.get_by_role("heading", name=unit, exact=True).first.wait_for()
        self.page.wait_for_function(SETTLED, arg=0)
        return time.perf_counter() - begun

    def _choice(self, number: int) -> float:
        choices = self.page.get_by_role("radiogroup", name="Choose a plan").locator("label")
        choices.first.wait_for()
        return self.timed(choices.nth((1 + number) % choices.count()).click)

    def _leave_out(self, number: int) -> float:
        link = self.page.get_by_role("link", name=re.compile("^leave out ")).nth(number % 3)
        link.wait_for()
        before = self._before()
        begun = time.perf_counter()
        link.click()
        self.page.wait_for_url("**must_out=*")
        self._wait_after(before)
        return time.perf_counter() - begun
