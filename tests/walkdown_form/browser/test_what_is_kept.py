"""What the page shows as saved is there after the worst; what is not kept is said."""

import io
import subprocess
import time
from pathlib import Path

import pytest
from phone import PATIENCE_S, Phone, settings_of, steps_seen, walkdowns_in
from PIL import Image
from quiet_chromium import QUIET

from scoring.files.route_reading import read_route

pytestmark = pytest.mark.browser

NO_SMALL_STORE = "Storage.prototype.setItem = () => { throw new Error('refused'); };"
NO_DATABASE = "Object.defineProperty(window, 'indexedDB', { get() { throw new Error('no'); } });"


def open_killable(playwright, chromium: str, profile: Path):
    """Start a browser of our own that can be killed without a warning."""
    process = subprocess.Popen(
        [
            chromium, "--headless=new", f"--user-data-dir={profile}", "--remote-debugging-port=0",
            *QUIET, "about:blank",
        ],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )  # fmt: skip
    door = profile / "DevToolsActivePort"
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end and not (door.exists() and "\n" in door.read_text()):
        time.sleep(0.1)
    port = door.read_text().split("\n")[0]
    connected = playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{port}")
    return process, connected, Phone(connected.contexts[0].new_page())


@pytest.mark.slow
def test_a_browser_that_is_killed_has_kept_every_answer(
    playwright, chromium: str, route_file: Path, form, tmp_path: Path
):
    unit = form["units"][0]
    steps = [step for step in steps_seen(unit, {"S"}) if step["options"]][:5]
    process, connected, phone = open_killable(playwright, chromium, tmp_path / "profile")
    phone.open(route_file.as_uri())
    phone.page.locator(f'[data-key="unit={unit["unit_id"]}"]').click()
    for key in ("kind=periodic", "machine_state=stopped"):
        phone.find(key).click()
    phone.write("inspector", "Kim Aster")
    phone.find("begin").click()
    for step in steps:
        phone.go(step["check"])
        phone.find(f"answer={step['options'][-1]['value']}").click()
    phone.wait_until_saved()
    process.kill()
    process.wait()
    (tmp_path / "profile" / "DevToolsActivePort").unlink(missing_ok=True)
    (tmp_path / "profile" / "SingletonLock").unlink(missing_ok=True)

    process, connected, phone = open_killable(playwright, chromium, tmp_path / "profile")
    try:
        phone.open(route_file.as_uri())
        phone.find(f"unit={unit['unit_id']}").click()
        for step in steps:
            row = phone.find(f"check={step['check']}")
            row.wait_for()
            assert row.get_attribute("data-standing") == "answered", step["check"]
    finally:
        connected.close()
        process.kill()
        process.wait()


@pytest.mark.parametrize(
    "refused", [(), (NO_SMALL_STORE,), (NO_DATABASE,), (NO_SMALL_STORE, NO_DATABASE)]
)
def test_a_browser_that_keeps_nothing_says_so(browser, route_file, form, refused, tmp_path):
    context = browser.new_context(**settings_of(390))
    context.set_offline(True)
    for script in refused:
        context.add_init_script(script)
    phone = Phone(context.new_page())
    phone.open(route_file.as_uri())
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    phone.tap("reason=no_access")
    if len(refused) < 2:
        phone.wait_until_saved()
        phone.page.reload()
        phone.page.wait_for_selector("h1")
        assert phone.find("reason=no_access").get_attribute("aria-pressed") == "true"
    else:
        assert "NOT SAVED" in phone.state
        assert "Save a copy" in phone.state
        phone.go("#/")
        phone.find("save-copy").wait_for()
        kept_answers = walkdowns_in(phone.copy(tmp_path))[unit["unit_id"]]["answers"]
        assert any(one["reason"] == "no_access" for one in kept_answers)
    context.close()


def a_photo(width: int = 3000, height: int = 2000) -> bytes:
    made = io.BytesIO()
    Image.effect_noise((width, height), 40).convert("RGB").save(made, "JPEG")
    return made.getvalue()


def test_photos_are_kept_made_smaller_and_go_into_the_copy(phone: Phone, form, tmp_path: Path):
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    check = steps_seen(unit, {"S"})[0]["check"]
    for number in (1, 2):
        phone.find("photo").set_input_files(
            {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": a_photo()}
        )
        phone.page.locator("figure img").nth(number - 1).wait_for()
    phone.page.reload()
    phone.page.locator("figure img").nth(1).wait_for()
    phone.page.locator("figure button").first.tap()
    phone.until(lambda: phone.page.locator("figure").count() == 1)
    phone.find("photo").set_input_files(
        {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b"no photo at all"}
    )
    phone.wait_for("cannot be read")
    phone.go("#/")
    phone.find("save-copy").wait_for()
    read = read_route(phone.copy(tmp_path))
    (photo,) = read.walkdowns[0].photos
    assert photo.check == check
    with Image.open(io.BytesIO(photo.image)) as image:
        assert max(image.size) == 1600


def test_a_copy_is_read_back_on_another_phone(phone: Phone, browser, route_file, form, tmp_path):
    unit = form["units"][0]
    phone.begin(unit["unit_id"], "stopped")
    phone.tap("reason=no_access")
    phone.find("photo").set_input_files(
        {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": a_photo(400, 300)}
    )
    phone.page.locator("figure img").wait_for()
    phone.go("#/")
    phone.find("save-copy").wait_for()
    copy = phone.copy(tmp_path)

    context = browser.new_context(**settings_of(390))
    other = Phone(context.new_page())
    other.open(route_file.as_uri())
    other.find("read-copy").set_input_files(copy)
    other.wait_for("6 answers taken")
    other.tap(f"unit={unit['unit_id']}")
    assert other.page.locator('[data-standing="not seen"]').count() == 1
    other.tap(f"check={steps_seen(unit, {'S'})[0]['check']}")
    other.page.locator("figure img").wait_for()
    other.tap("reason=running")  # what is on this phone stays
    other.go("#/")
    other.find("read-copy").set_input_files(copy)
    other.wait_for("1 answer of this device")
    other.find("read-copy").set_input_files(
        {"name": "x.json", "mimeType": "application/json", "buffer": b'{"walkdowns": 3}'}
    )
    other.wait_for("no copy of a walkdown")
    context.close()


def test_two_windows_do_not_write_over_each_other(phone: Phone, form):
    unit = form["units"][0]
    steps = steps_seen(unit, {"S"})
    phone.begin(unit["unit_id"], "stopped")
    other = Phone(phone.page.context.new_page())
    other.open(phone.page.url)
    other.tap("reason=no_access")
    other.tap("next")
    phone.tap("to-list")
    phone.tap(f"check={steps[2]['check']}")
    phone.tap("reason=running")
    phone.tap("to-list")
    phone.until(lambda: phone.page.locator('[data-standing="not seen"]').count() == 2)
