"""In the dark the picture of a check has the colours of the dark, ground and ink too."""

import re
from urllib.parse import unquote

import pytest
from phone import Phone, settings_of

from scoring.walkdown_form.check_picture import PICTURE_COLOURS

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_picture_of_a_check_has_the_colours_of_the_screen(browser, route_file, form, scheme):
    context = browser.new_context(**settings_of(390, scheme))
    phone = Phone(context.new_page())
    phone.open(route_file.as_uri())
    phone.begin(form["units"][0]["unit_id"], "hanging")
    drawn = unquote(phone.page.locator("button.picture img").get_attribute("src"))
    context.close()
    other = PICTURE_COLOURS["light" if scheme == "dark" else "dark"]
    used = set(re.findall(r"#[0-9a-fA-F]{6}\b", drawn))
    assert used <= set(PICTURE_COLOURS[scheme].values())
    assert not used & set(other.values())
    assert {PICTURE_COLOURS[scheme][name] for name in ("ink", "metal")} <= used
