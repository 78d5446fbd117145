"""Targets for gloves, one column without sideways scrolling, and no waiting."""

import pytest
from phone import Phone, good_value, settings_of

pytestmark = pytest.mark.browser

LEAST = 48
APART = 8

TARGETS = """() => [...document.querySelectorAll('button, input, textarea, summary, a')]
  .filter((one) => one.checkVisibility())
  .map((one) => { const box = one.getBoundingClientRect();
    return {key: one.dataset.key || one.textContent, tag: one.tagName,
      x: box.x, y: box.y + scrollY, width: box.width, height: box.height,
      fixed: Boolean(one.closest('footer'))}; })"""


def check_targets(phone: Phone) -> None:
    targets = phone.page.evaluate(TARGETS)
    assert targets
    for one in targets:
        assert one["height"] >= LEAST, one
        assert one["width"] >= LEAST, one
    for place, one in enumerate(targets):
        for other in targets[place + 1 :]:
            if one["fixed"] != other["fixed"]:
                continue  # the bar floats over what scrolls
            across = max(one["x"], other["x"]) - min(
                one["x"] + one["width"], other["x"] + other["width"]
            )
            down = max(one["y"], other["y"]) - min(
                one["y"] + one["height"], other["y"] + other["height"]
            )
            assert max(across, down) >= APART - 0.5, (one, other)
    room = phone.page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert room[0] <= room[1]


def asked_at_hanging(step) -> bool:
    return not step["asked_on"] or "post_install" in step["asked_on"]


@pytest.mark.slow
@pytest.mark.parametrize("width", [390, 820])
def test_every_screen_is_for_gloves(browser, route_file, form, width: int):
    context = browser.new_context(**settings_of(width))
    phone = Phone(context.new_page())
    phone.open(route_file.as_uri())
    check_targets(phone)
    unit = next(one for one in form["units"] if one["mounting"] == "tapered_bushing")
    phone.tap(f"unit={unit['unit_id']}")
    check_targets(phone)
    phone.tap("begin")  # with its complaint
    check_targets(phone)
    phone.go("#/")
    phone.begin(unit["unit_id"], "hanging")
    for step in [one for one in unit["steps"] if one["seen"] in "HS" and asked_at_hanging(one)]:
        assert phone.title.lower() == step["label"].lower()
        check_targets(phone)
        if step["options"]:
            phone.tap(f"answer={step['options'][-1]['value']}")
        else:
            phone.tap(f"unit={step['entries'][-1]['heading']}") if step["entries"][1:] else None
            phone.write("answer", "7777")
            before = phone.page.url
            phone.tap("next")
            if phone.page.url != before:  # nothing says that it is odd
                phone.tap("back")
        check_targets(phone)
        phone.tap("reason=no_access")
        phone.tap("next")
    check_targets(phone)
    phone.tap("to-list")
    check_targets(phone)
    context.close()


def test_a_tap_changes_the_screen_by_the_second_frame(phone: Phone, form):
    """It waits for nobody; how long a frame takes is told by the benchmark of taps."""
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    changed_by_then = """key => new Promise((done) => {
      const before = document.querySelector('main').innerHTML;
      document.querySelector(`[data-key="${CSS.escape(key)}"]`).click();
      requestAnimationFrame(() => requestAnimationFrame(() =>
        done(document.querySelector('main').innerHTML !== before)));
    })"""
    for _ in range(8):
        assert phone.page.evaluate(changed_by_then, "reason=no_access")
        assert phone.page.evaluate(changed_by_then, "next")


def test_the_keyboard_alone_will_do(phone: Phone, form):
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    step = next(one for one in unit["steps"] if one["seen"] == "S" and one["options"])
    phone.tap("to-list")
    phone.tap(f"check={step['check']}")
    for _ in range(30):
        phone.page.keyboard.press("Tab")
        key = phone.page.evaluate("document.activeElement.dataset.key")
        if key == f"answer={good_value(step)}":
            break
    outline = phone.page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline == "solid"
    phone.page.keyboard.press("Enter")
    assert phone.page.evaluate("document.activeElement.getAttribute('aria-pressed')") == "true"


def test_pictures_tell_what_they_show(phone: Phone, form):
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    image = phone.page.locator(".picture img")
    assert len(image.get_attribute("alt")) > 20
    assert image.evaluate("one => one.complete && one.naturalWidth > 0")
    small = image.bounding_box()["height"]
    phone.tap("picture")
    assert phone.page.locator(".picture img").bounding_box()["height"] > small
