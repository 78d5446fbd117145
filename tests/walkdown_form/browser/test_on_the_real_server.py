"""A walkdown on a phone against the real server and a real store, from the unit to the ranking."""

import io
from collections.abc import Iterator
from pathlib import Path

import pandas as pd
import pytest
from click.testing import CliRunner
from kept_sign_offs import sign_offs_of_unit
from pages_on_a_store import Pages
from phone import Phone, good_value, settings_of, steps_seen
from PIL import Image

from scoring.cli.main import cli
from scoring.entering.answers import answers_of
from scoring.entering.drafts import open_drafts
from scoring.entering.photos import find_photo, photos_of
from scoring.entering.sign_offs import not_seen_of
from scoring.intake import check_fleet
from scoring.store.read_records import read_records
from scoring.store.versions import versions_of
from scoring.walkdown_form.document import form_document
from scoring.walkdown_form.without_network import route_page

pytestmark = [pytest.mark.browser, pytest.mark.slow]

PATIENCE_MS = 300_000
"""How long a page may work out a ranking on a busy machine."""

UNIT_OF = {
    "keyed_bore": "SS-004",
    "tapered_bushing": "SS-001",
    "shrink_disc": "SS-002",
    "shrink_disc_support_bushings": "SS-029",
}
OPENED = "keyed_bore"
"""Whose page is opened here too; those of all are in the tests of the pages."""


@pytest.fixture
def phones(browser, pages: Pages) -> Iterator:
    """Hand out phones; each is its own browser, and nothing leaves this machine."""
    contexts, opened = [], []

    def one() -> Phone:
        contexts.append(browser.new_context(**settings_of(390)))
        opened.append(Phone(contexts[-1].new_page()))
        return opened[-1]

    yield one
    complaints = [complaint for phone in opened for complaint in phone.complaints]
    for context in contexts:
        context.close()
    assert complaints == []
    for phone in opened:
        assert all(asked.startswith(pages.address) for asked in phone.asked)


def fleet_of(pages: Pages, unit_id: str):
    with pages.store().reading() as connection:
        tables = read_records(connection, "the store", [unit_id])
    return check_fleet(tables, pd.Timestamp.today()).fleet


def unit_form(pages: Pages, unit_id: str) -> dict:
    return form_document(fleet_of(pages, unit_id).units, [unit_id])["units"][0]


def begin(phone: Phone, pages: Pages, unit_id: str, by: str = "Kim Aster") -> None:
    """Go from the link on the label to the form."""
    phone.open(f"{pages.address}/walkdown/new?unit={unit_id}")
    phone.page.fill("#by", by)
    phone.page.get_by_role("button", name="Begin a walkdown").tap()
    phone.page.wait_for_selector('[data-key="begin"]')


def answer_all(phone: Phone, steps: list[dict], bad: dict[str, str] | None = None) -> dict:
    tapped = {}
    for step in steps:
        tapped[step["check"]] = (bad or {}).get(step["check"]) or good_value(step)
        phone.give(step, tapped[step["check"]])
        phone.go_on()
    return tapped


def sign(phone: Phone) -> None:
    phone.wait_until_saved()
    phone.until(lambda: "Verdict" in phone.words)
    phone.tap("sign")
    phone.until(lambda: phone.title == "Signed")


def answered(pages: Pages, unit_id: str) -> set[str]:
    """Return what the store holds of the one walkdown that is begun at a unit."""
    with pages.store().reading() as connection:
        (draft,) = open_drafts(connection, unit_id)
        return set(answers_of(connection, draft.draft_id))


def walkdown_row(pages: Pages, unit_id: str) -> dict:
    """Return the walkdown entered last."""
    rows = fleet_of(pages, unit_id).walkdowns
    return rows.sort_values("recorded_at", na_position="first").iloc[-1].to_dict()


@pytest.mark.parametrize("mounting", UNIT_OF)
def test_a_complete_walkdown_is_entered_signed_and_ranked(
    phones, pages: Pages, mounting: str, tmp_path: Path
):
    unit_id = UNIT_OF[mounting]
    phone = phones()
    begin(phone, pages, unit_id)
    phone.begin(unit_id, "hanging")
    unit = unit_form(pages, unit_id)
    steps = steps_seen(unit, {"H", "S"})
    tapped = answer_all(phone, steps)
    sign(phone)

    row = walkdown_row(pages, unit_id)
    for step in steps:
        found = row[step["check"]]
        said = tapped[step["check"]]
        assert (found == said) if step["kind"] == "choice" else (found == float(said))
    assert row["kind"] == "post_install"
    with pages.store().reading() as connection:
        signed = sign_offs_of_unit(connection, unit_id)[0]
    assert (signed.walkdown_id, signed.signed_by) == (row["walkdown_id"], "Kim Aster")
    assert f"{signed.verdict.replace('_', ' ')}" in phone.words

    ranking = tmp_path / "ranking.csv"
    assert CliRunner().invoke(cli, ["rank", pages.url, "--out", str(ranking)]).exit_code == 0
    ranked = pd.read_csv(ranking).set_index("unit_id")
    assert ranked.loc[unit_id, "verdict"] == signed.verdict
    to_the_unit = phone.page.get_by_role("link", name="To the page of this unit")
    assert to_the_unit.get_attribute("href") == f"/unit?unit={unit_id}"
    if mounting != OPENED:
        return
    to_the_unit.tap()
    phone.page.wait_for_selector(f"h1:has-text('{unit_id}')", timeout=PATIENCE_MS)
    phone.page.wait_for_selector("text=Walkdowns and releases", timeout=PATIENCE_MS)


def test_what_is_shown_as_saved_survives_a_killed_server_and_a_reload(phones, pages: Pages):
    unit_id = "SS-006"
    phone = phones()
    begin(phone, pages, unit_id)
    phone.begin(unit_id, "stopped")
    steps = steps_seen(unit_form(pages, unit_id), {"S"})
    before = answer_all(phone, steps[:5])
    phone.wait_until_saved()
    pages.kill()
    step = steps[5]
    phone.give(step, good_value(step))
    phone.until(lambda: "not saved" in phone.state)
    form = phone.page.url
    pages.start()
    phone.page.goto("about:blank")
    phone.open(form)
    asked = {one["check"] for one in steps[:6]}
    phone.until(lambda: asked <= answered(pages, unit_id))  # also what nothing took before
    phone.until(lambda: phone.state.startswith(("✓ saved", "✓ connected")))
    for one in steps[:6]:
        phone.go(f"#/{unit_id}/check/{one['check']}")
        said = before.get(one["check"]) or good_value(one)
        if one["options"]:
            assert phone.find(f"answer={said}").get_attribute("aria-pressed") == "true"
        else:
            assert phone.find("answer").input_value() == said
    phone.go(f"#/{unit_id}/list")
    assert phone.page.locator('[data-standing="answered"]').count() == 6


def test_a_hold_needs_who_was_told_and_a_release_needs_its_cure(phones, pages: Pages):
    unit_id = "SS-007"
    phone = phones()
    begin(phone, pages, unit_id)
    phone.begin(unit_id, "stopped")
    steps = steps_seen(unit_form(pages, unit_id), {"S"})
    answer_all(phone, steps, {"guard": "missing"})
    phone.wait_until_saved()
    phone.wait_for("Fit the guard")
    phone.tap("sign")
    assert "who was told" in phone.words
    phone.write("told", "shift lead Noor Vale")
    sign(phone)
    with pages.store().reading() as connection:
        signed = sign_offs_of_unit(connection, unit_id)[0]
    assert (signed.verdict, signed.told) == ("hold", "shift lead Noor Vale")
    assert any("guard" in words for words in signed.holds)

    page = phone.page
    page.goto(f"{pages.address}/enter/release?unit={unit_id}")
    assert page.get_by_role("button", name="Sign the release").count() == 0
    page.get_by_role("link", name="Write down re-work").tap()
    page.get_by_text("fit the guard").tap()
    page.fill("#by", "Mo Hart")
    page.get_by_role("button", name="Keep it").tap()
    page.wait_for_selector("text=✓ kept")
    assert "must not run" not in phone.words
    page.goto(f"{pages.address}/enter/release?unit={unit_id}")
    page.fill("#reason", "guard fitted and bolted, turned by hand")
    page.fill("#by", "Ines Roth")
    page.get_by_role("button", name="Sign the release").tap()
    page.wait_for_selector("text=✓ kept")
    page.goto(f"{pages.address}/unit?unit={unit_id}")
    page.wait_for_selector("text=Releases to start", timeout=PATIENCE_MS)


def test_a_failure_and_an_accepted_finding_change_the_ranking(phones, pages: Pages):
    unit_id = "SS-010"
    phone = phones()
    page = phone.page
    phone.open(f"{pages.address}/unit?unit={unit_id}")
    page.get_by_role("link", name="Write down a failure").tap()
    page.get_by_text("seal leak").tap()
    page.fill("#downtime_h", "1,5")
    page.fill("#by", "Mo Hart")
    page.get_by_role("button", name="Keep it").tap()
    page.wait_for_selector("text=downtime_h '1,5'")
    assert page.get_by_label("seal leak").is_checked()  # nothing typed is lost
    page.fill("#downtime_h", "1.5")
    page.get_by_role("button", name="Keep it").tap()
    page.wait_for_selector("text=✓ kept")
    page.get_by_role("link", name="To the unit").tap()
    page.wait_for_selector(f"h1:has-text('{unit_id}')", timeout=PATIENCE_MS)
    rows = fleet_of(pages, unit_id).events
    assert rows.iloc[-1][["mode", "downtime_h"]].tolist() == ["seal_leak", 1.5]

    begin(phone, pages, unit_id)
    phone.begin(unit_id, "stopped")
    steps = steps_seen(unit_form(pages, unit_id), {"S"})
    answer_all(phone, steps, {"breather": "plugged"})
    sign(phone)
    page.goto(f"{pages.address}/enter/accepted?unit={unit_id}")
    page.locator("input[value=breather]").check()
    page.fill("#accepted_by", "Ines Roth")
    page.fill("#reason", "dry place, to be opened at the next stop")
    page.fill("#until_on", "2099-01-01")
    page.fill("#by", "Ines Roth")
    page.get_by_role("button", name="Keep it").tap()
    page.wait_for_selector("text=✓ kept")
    page.goto(f"{pages.address}/unit?unit={unit_id}")
    page.get_by_role("heading", name=unit_id, exact=True).wait_for(timeout=PATIENCE_MS)
    row = fleet_of(pages, unit_id).accepted.iloc[-1]
    assert (row["check"], row["accepted_by"]) == ("breather", "Ines Roth")


def test_two_people_are_told_of_each_other_and_neither_overwrites_the_other(phones, pages: Pages):
    unit_id = "SS-011"
    kim, mo = phones(), phones()
    begin(kim, pages, unit_id)
    kim.begin(unit_id, "stopped")
    form = kim.page.url.split("#")[0]
    begin(mo, pages, unit_id, "Mo Hart")
    assert "Kim Aster" in mo.words  # at the same unit, in another walkdown
    mo.open(form)
    mo.go(f"#/{unit_id}/list")
    kim.wait_until_saved()
    check = "guard"
    for phone in (kim, mo):
        phone.go(f"#/{unit_id}/check/{check}")
    kim.tap("answer=missing")
    kim.wait_until_saved()
    mo.tap("answer=fitted")
    mo.until(lambda: "Kim Aster" in mo.words and mo.has("stands-mine=guard"))
    mo.tap("stands-theirs=guard")
    mo.until(lambda: mo.find("answer=missing").get_attribute("aria-pressed") == "true")


def test_a_signed_walkdown_is_corrected_by_a_new_version(phones, pages: Pages):
    unit_id = "SS-012"
    phone = phones()
    begin(phone, pages, unit_id)
    phone.begin(unit_id, "stopped")
    steps = steps_seen(unit_form(pages, unit_id), {"S"})
    answer_all(phone, steps)
    sign(phone)
    key = walkdown_row(pages, unit_id)["walkdown_id"]
    phone.open(f"{pages.address}/walkdown/new?correct={key}")
    assert "You correct the walkdown" in phone.words
    phone.page.fill("#by", "Ines Roth")
    phone.page.get_by_role("button", name="Correct it").tap()
    phone.page.wait_for_selector("h1")
    phone.go(f"#/{unit_id}/check/oil_level")
    phone.tap("answer=high")
    phone.wait_until_saved()
    phone.go(f"#/{unit_id}/end")
    phone.until(lambda: "Verdict" in phone.words)
    phone.tap("sign")
    assert "Say why" in phone.words
    phone.write("why it is corrected", "read at the wrong glass")
    phone.write("signed by", "Ines Roth")
    sign(phone)
    with pages.store().reading() as connection:
        versions = versions_of(connection, "walkdowns", key)
    assert [version.content["oil_level"] for version in versions] == ["right", "high"]
    assert (versions[1].reason, versions[1].actor) == ("read at the wrong glass", "Ines Roth")
    assert walkdown_row(pages, unit_id)["walkdown_id"] == key


def test_a_photo_is_kept_without_where_and_when_it_was_taken(phones, pages: Pages, tmp_path):
    unit_id = "SS-013"
    phone = phones()
    picture = Image.new("RGB", (900, 600), "gray")
    exif = picture.getexif()
    exif[0x010F] = "some camera"
    exif.get_ifd(0x8825)[2] = (47.0, 22.0, 0.0)
    file = tmp_path / "seen.jpg"
    picture.save(file, exif=exif)
    begin(phone, pages, unit_id)
    phone.begin(unit_id, "stopped")
    phone.go(f"#/{unit_id}/check/guard")
    phone.find("photo").set_input_files(file)
    phone.page.locator("figure img").wait_for()
    phone.wait_until_saved()
    draft_page = phone.page.url
    phone.page.goto("about:blank")
    phone.open(draft_page)
    shown = phone.page.locator("figure img")
    shown.wait_for()
    phone.until(lambda: shown.evaluate("image => image.naturalWidth") == 900)
    with pages.store().reading() as connection:
        (draft,) = open_drafts(connection, unit_id)
        (photo,) = photos_of(connection, draft.walkdown_id, draft.draft_id)
        kept = Image.open(io.BytesIO(find_photo(connection, photo["photo_id"])))
    assert photo["check"] == "guard"
    assert not kept.getexif()
    assert "exif" not in kept.info


def test_why_a_check_was_not_seen_is_kept(phones, pages: Pages):
    unit_id = "SS-014"
    phone = phones()
    begin(phone, pages, unit_id)
    phone.begin(unit_id, "stopped")
    phone.go(f"#/{unit_id}/check/guard")
    phone.tap("reason=no_access")
    phone.wait_until_saved()
    phone.go(f"#/{unit_id}/end")
    sign(phone)
    row = walkdown_row(pages, unit_id)
    assert pd.isna(row["guard"])
    with pages.store().reading() as connection:
        assert not_seen_of(connection, row["walkdown_id"]) == {"guard": "no_access"}


def test_a_walkdown_without_a_network_equals_the_same_entered_on_line(
    browser, phones, pages: Pages, tmp_path: Path
):
    unit_id = "SS-016"
    units = fleet_of(pages, unit_id).units
    steps = steps_seen(unit_form(pages, unit_id), {"H", "S"})
    bad = {"isolators_free": "0"}
    on_line = phones()
    begin(on_line, pages, unit_id)
    on_line.begin(unit_id, "hanging")
    answer_all(on_line, steps, bad)
    sign(on_line)

    route = tmp_path / "route.html"
    route.write_text(route_page(units, [unit_id], "one unit"), encoding="utf-8")
    context = browser.new_context(**settings_of(390))
    context.set_offline(offline=True)
    off_line = Phone(context.new_page())
    off_line.open(route.as_uri())
    off_line.begin(unit_id, "hanging")
    answer_all(off_line, steps, bad)
    off_line.tap("sign")
    off_line.wait_until_saved()
    off_line.tap("to-route")
    copy = off_line.copy(tmp_path)
    assert off_line.asked == []
    context.close()

    load = ["load", str(copy), "--store", pages.url, "--by", "Kim Aster"]
    assert "1 added" in CliRunner().invoke(cli, load).stdout
    rows = fleet_of(pages, unit_id).walkdowns.sort_values("recorded_at", na_position="first")
    said = rows.drop(columns=["walkdown_id", "recorded_at", "row"])
    pd.testing.assert_series_equal(said.iloc[-2], said.iloc[-1], check_names=False)
    with pages.store().reading() as connection:
        first, second = sign_offs_of_unit(connection, unit_id)[:2]
    assert (first.verdict, first.holds, first.signed_by) == (
        second.verdict,
        second.holds,
        second.signed_by,
    )

    page = phones().page
    page.goto(f"{pages.address}/walkdowns")
    page.wait_for_selector("text=Without a network", timeout=PATIENCE_MS)
    page.locator("input[type=file]").set_input_files(copy)
    page.get_by_label("your name").fill("Kim Aster")
    page.get_by_role("button", name="Take them in").tap()
    page.wait_for_selector("text=1 there already", timeout=PATIENCE_MS)


@pytest.mark.parametrize("width", [390, 820])
@pytest.mark.parametrize(
    "place",
    [
        "/walkdown",
        "/walkdown/new?unit=SS-017",
        "/walkdown/who?to=x",
        "/walkdown/nothing",
        "/enter/rework?unit=SS-017",
        "/enter/events?unit=SS-017",
        "/enter/accepted?unit=SS-017",
        "/enter/release?unit=SS-017",
    ],
)
def test_the_pages_around_the_form_are_for_gloves(browser, pages: Pages, place: str, width: int):
    context = browser.new_context(**settings_of(width))
    page = context.new_page()
    page.goto(pages.address + place)
    targets = page.locator(
        "a.target, button, select, textarea, label.option, "
        "input:not([type=hidden]):not([type=radio]):not([type=checkbox])"
    )
    sizes = [(box["height"], box["width"]) for one in targets.all() if (box := one.bounding_box())]
    assert sizes
    assert min(height for height, _ in sizes) >= 48
    assert min(wide for _, wide in sizes) >= 48
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    context.close()
