"""No page has a fault of access that a machine can find: on a desk, in a hand, in light and dark.

What is looked for is that of axe-core, of the impact *moderate* and above.
"""

import pytest
from faults_of_access import faults_of_access
from test_in_a_browser import HELD, NARROW, PATIENCE_MS, Visitor

pytestmark = pytest.mark.browser

DESK = (1280, 900)
PAGES = ["/", "/fix", f"/unit?unit={HELD}", "/plan", "/look", "/trend", "/trust", "/walkdowns"]

NOTHING_FADES = (
    "[data-testid=stElementContainer], [data-testid=stCaptionContainer]"
    " { opacity: 1 !important; transition: none !important }"
)
"""While a part is worked out anew it is faded, and a page may begin to at any moment; what a person
reads is the page at rest, so the fading is taken away."""


@pytest.fixture(
    scope="module",
    params=[(DESK, "light"), (DESK, "dark"), (NARROW, "light"), (NARROW, "dark")],
    ids=str,
)
def context(browser, request):
    (width, height), scheme = request.param
    opened = browser.new_context(
        viewport={"width": width, "height": height}, color_scheme=scheme, reduced_motion="reduce"
    )
    yield opened
    opened.close()


@pytest.mark.parametrize("path", PAGES)
def test_no_page_has_a_fault_of_access(context, pages, path):
    visitor = Visitor(context, pages)
    page = visitor.page
    page.goto(pages + path)
    page.get_by_role("heading", level=1).first.wait_for(timeout=PATIENCE_MS)
    visitor.settle()
    page.add_style_tag(content=NOTHING_FADES)
    assert faults_of_access(page) == []
    page.close()
    assert visitor.left_the_machine == []
