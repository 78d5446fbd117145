"""Today shows what is due at once; what is worth a look comes in by itself, and takes no focus."""

import pytest
from playwright.sync_api import expect

from dashboard.walkdown.templates import page_policy, render

pytestmark = pytest.mark.browser

ADDRESS = "http://pages.test/today"
STILL = "Still working out what else is worth a look"


def unit(name):
    return {
        "unit_id": name, "query": f"unit={name}", "where": "belt 4", "why": ["never seen: key"],
        "first_why": "never seen: key", "more_why": 0, "stop": False, "minutes": "20",
        "begun_by": "",
    }  # fmt: skip


def today(units, *, is_listed=True, is_weighed=False, person="Kim Aster", fleet="A plant"):
    shown = [unit(one) for one in units]
    return render(
        "today.html",
        fleet=fleet, person=person, people=[], drafts=[], changes=[], more_changes=0,
        no_store="", since="", is_weighed=is_weighed, is_listed=is_listed, day="1 July 2026",
        cautions="", sites=["Pit"], lines=["belt 4"], site="", line="", where="at all sites",
        all_query="all=1", walk_query="", summary=f"{len(units)} due at all sites.",
        first=shown[0] if shown else None, rows=shown[1:], more=0,
    )  # fmt: skip


class Served:
    """Today as a server would give it, one page after the other."""

    def __init__(self, page, *answers):
        self.left, self.page = list(answers), page
        page.route("http://pages.test/**", self._answer)
        page.clock.install()
        page.goto(ADDRESS)

    def _answer(self, route):
        body = self.left.pop(0) if len(self.left) > 1 else self.left[0]
        headers = {"Content-Security-Policy": page_policy(), "Content-Type": "text/html"}
        route.fulfill(status=200, body=body, headers=headers)


@pytest.fixture
def page(browser):
    context = browser.new_context(viewport={"width": 390, "height": 844})
    yield context.new_page()
    context.close()


def test_what_is_worth_a_look_comes_in_and_the_focus_stays_at_its_unit(page):
    Served(page, today(["A", "C"]), today(["A", "C"]), today(["A", "B", "C"], is_weighed=True))
    expect(page.get_by_text(STILL)).to_be_visible()
    page.get_by_role("link", name="C belt 4").focus()
    page.clock.run_for(3_000)
    expect(page.get_by_text("2 due at all sites.")).to_be_visible()
    page.wait_for_function("document.activeElement.innerText.startsWith('C')")
    page.clock.run_for(3_000)
    expect(page.get_by_text("3 due at all sites.")).to_be_visible()
    expect(page.get_by_text(STILL)).to_have_count(0)
    expect(page.get_by_text("Suggested: what is worth most")).to_be_visible()
    expect(page.get_by_role("link", name="C belt 4")).to_be_focused()


def test_the_button_of_a_unit_keeps_the_focus_where_another_becomes_the_next(page):
    Served(page, today(["B"]), today(["A", "B"], is_weighed=True))
    page.get_by_role("button", name="Begin B").focus()
    page.clock.run_for(3_000)
    expect(page.get_by_role("heading", name="Next: A")).to_be_visible()
    expect(page.get_by_role("link", name="B belt 4")).to_be_focused()


def test_a_name_that_is_being_typed_stays_while_the_list_comes_in(page):
    given = {"person": ""}
    Served(
        page,
        today([], is_listed=False, **given),
        today(["A"], **given),
        today(["A", "B"], is_weighed=True, **given),
    )
    page.get_by_label("Who holds this device?").press_sequentially("Kim")
    for due in ("1 due", "2 due"):
        page.clock.run_for(3_000)
        expect(page.get_by_text(f"{due} at all sites.")).to_be_visible()
    expect(page.get_by_label("Who holds this device?")).to_be_focused()
    expect(page.get_by_label("Who holds this device?")).to_have_value("Kim")


WHERE_WORDS_STAND = """() => [...document.querySelector('.band').children].map(one => {
    const range = document.createRange();
    range.selectNodeContents(one);
    const box = range.getBoundingClientRect();
    return {lines: range.getClientRects().length, top: Math.round(box.top), right: box.right};
})"""


@pytest.mark.parametrize("person", ["", "Kim Aster"])
def test_plant_link_and_person_stand_on_one_line_of_a_phone(page, person):
    Served(page, today(["A"], person=person, fleet="Small quarry"))
    words = page.evaluate(WHERE_WORDS_STAND)
    assert [one["lines"] for one in words] == [1, 1, 1]
    assert len({one["top"] for one in words}) == 1


def test_of_long_names_each_stays_whole_and_within_the_screen(page):
    Served(page, today(["A"], person="Maximiliane Sternenberg", fleet="Works at the harbour"))
    words = page.evaluate(WHERE_WORDS_STAND)
    assert [one["lines"] for one in words] == [1, 1, 1]
    assert max(one["right"] for one in words) <= 390
