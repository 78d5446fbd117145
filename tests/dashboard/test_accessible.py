"""No page has a fault of access that a machine can find, on a desk in light and in a hand in dark.

What is looked for is that of axe-core, of the impact *moderate* and above.
"""

from importlib.resources import files

import pytest
from test_in_a_browser import HELD, NARROW, PATIENCE_MS, WIDE, Visitor

pytestmark = pytest.mark.browser

AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
WEIGHTY = ("moderate", "serious", "critical")
PAGES = ["/", "/fix", f"/unit?unit={HELD}", "/plan", "/look", "/trend", "/trust", "/walkdowns"]


@pytest.fixture(scope="module", params=[(WIDE, "light"), (NARROW, "dark")], ids=str)
def context(browser, request):
    (width, height), scheme = request.param
    opened = browser.new_context(
        viewport={"width": width, "height": height}, color_scheme=scheme, reduced_motion="reduce"
    )
    yield opened
    opened.close()


def faults(page):
    """Return what axe-core finds: how weighty, which rule, and where first."""
    page.evaluate(AXE)
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
    return [
        f"{one['impact']} {one['id']}: {one['nodes'][0]['html'][:160]}"
        for one in found
        if one["impact"] in WEIGHTY
    ]


@pytest.mark.parametrize("path", PAGES)
def test_no_page_has_a_fault_of_access(context, pages, path):
    visitor = Visitor(context, pages)
    page = visitor.page
    page.goto(pages + path)
    page.get_by_role("heading", level=1).first.wait_for(timeout=PATIENCE_MS)
    visitor.settle()
    assert faults(page) == []
    page.close()
    assert visitor.left_the_machine == []
