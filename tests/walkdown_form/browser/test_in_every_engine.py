"""A whole walkdown in Chromium, Firefox and WebKit: on line, and from a file without a network.

``pytest tests/walkdown_form/browser/test_in_every_engine.py -m long -s`` tells which engines were
driven, which were not tried, and what cannot be driven in one, with the reason.
"""

import sys
import time
from pathlib import Path

import pandas as pd
import pytest
from engine_of_chromium import Chromium
from engine_of_firefox import Firefox
from engine_of_webkit import WebKit
from hand_at_a_form import Hand, key
from kept_sign_offs import sign_offs_of_unit
from pages_on_a_store import Pages
from phone import good_value, steps_seen
from PIL import Image

from scoring.entering.photos import photos_of
from scoring.entering.sign_offs import not_seen_of
from scoring.intake import check_fleet
from scoring.store.read_records import read_records
from scoring.walkdown_form.document import form_document
from scoring.walkdown_form.without_network import route_page

pytestmark = [pytest.mark.browser, pytest.mark.long]

UNIT_OF = {"Chromium": "SS-004", "Firefox": "SS-001", "WebKit": "SS-029"}
"""One unit for each engine, of another mounting each."""
MM_PER_IN = 25.4
NAME = "Kim Aster"


def tell(words: str) -> None:
    sys.stdout.write(words + "\n")


@pytest.fixture(params=[Chromium, Firefox, WebKit], ids=lambda kind: kind.__name__)
def hand(request, tmp_path: Path):
    """Start an engine; one that is not installed is not tried, and that is said."""
    kind = request.param
    if not all(kind.programs):
        said = f"not tried: {kind.__name__} is not installed (apt-get install {kind.packages})"
        tell(f"\n{said}")
        pytest.skip(said)
    folder = tmp_path / "engine"
    folder.mkdir()
    begun = time.monotonic()
    engine = kind(folder)
    try:
        engine.start()
        yield Hand(engine)
    finally:
        engine.close()
    tell(f"\n{engine.version}: {time.monotonic() - begun:.0f} s")
    for what, why in kind.cannot.items():
        tell(f"  not driven: {what}: {why}")
    assert engine.complaints == []


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    file = tmp_path / "seen.jpg"
    Image.effect_noise((2000, 1500), 40).convert("RGB").save(file)
    return file


def fleet_of(pages: Pages, unit_id: str):
    with pages.store().reading() as connection:
        tables = read_records(connection, "the store", [unit_id])
    return check_fleet(tables, pd.Timestamp.today()).fleet


def last_rows(pages: Pages, unit_id: str) -> pd.DataFrame:
    """Return the walkdowns of a unit, the last entered last."""
    rows = fleet_of(pages, unit_id).walkdowns
    return rows.sort_values("recorded_at", na_position="first")


def walk(hand: Hand, steps: list[dict], photo: Path) -> tuple[dict[str, object], str]:
    """Answer everything but one check; return what was answered, and what was not seen."""
    words = [step for step in steps if step["options"]]
    in_inches = next(step for step in steps if other_unit(step) is not None)
    not_seen, undone, photographed = words[2], words[4], words[6]
    given = {}
    for place, step in enumerate(steps):
        assert hand.title.lower() == step["label"].lower()
        if place == len(steps) // 2:  # what was answered is there after the page was opened anew
            hand.wait_until_saved()
            hand.engine.reload()
            hand.until(lambda step=step: hand.title.lower() == step["label"].lower())
        value = good_value(step)
        if step is photographed:
            hand.photograph(photo)
        if step is not_seen:
            hand.tap("reason=no_access")
            hand.go_on()
            continue
        if step is undone:
            other = next(one["value"] for one in step["options"] if one["value"] != value)
            hand.give(step, value)
            hand.give(step, other)
            hand.tap("undo")
            assert hand.pressed(f"answer={value}")
            assert not hand.pressed(f"answer={other}")
        elif step is in_inches:
            value = f"{float(value) / MM_PER_IN:.4g}"
            hand.give(step, value, other_unit(step))
        else:
            hand.give(step, value)
        given[step["check"]] = value if step["kind"] == "choice" else float(value)
        if step is in_inches:
            given[step["check"]] = float(value) * MM_PER_IN
        hand.go_on()
    return given, not_seen["check"]


def other_unit(step: dict) -> str | None:
    """Return the heading in inches of what is asked in millimetres."""
    headings = [one["heading"] for one in step["entries"]]
    return next((one for one in headings if one.endswith("_in")), None)


def check_kept(pages: Pages, unit_id: str, given: dict, not_seen: str, verdict: str) -> None:
    """Compare what the store holds with what was answered."""
    row = last_rows(pages, unit_id).iloc[-1]
    for check, value in given.items():
        assert row[check] == (pytest.approx(value) if isinstance(value, float) else value), check
    assert (row["kind"], row["notes"], row["inspector"]) == ("post_install", "rubber new", NAME)
    with pages.store().reading() as connection:
        assert not_seen_of(connection, row["walkdown_id"]) == {not_seen: "no_access"}
        assert len(photos_of(connection, row["walkdown_id"])) == 1
        signed = sign_offs_of_unit(connection, unit_id)[0]
    assert (signed.walkdown_id, signed.signed_by) == (row["walkdown_id"], NAME)
    assert verdict in {"", signed.verdict.replace("_", " ")}


def bring_in(hand: Hand, pages: Pages, copy: Path) -> None:
    """Take a saved copy into the store, by the page for it."""
    hand.open(f"{pages.address}/walkdowns")
    hand.until(lambda: hand.count("input[type=file]") > 0)
    hand.engine.attach("input[type=file]", copy)
    hand.until(lambda: copy.name[-8:] in hand.text())  # a long name is shortened
    hand.write('input[aria-label="your name"]', NAME)
    hand.press('[data-testid="stFormSubmitButton"] button')
    hand.until(lambda: "1 walkdown added" in hand.text())


def test_a_whole_walkdown_on_line_and_from_a_file(hand: Hand, pages: Pages, photo, tmp_path):
    unit_id = UNIT_OF[type(hand.engine).__name__]
    units = fleet_of(pages, unit_id).units
    steps = steps_seen(form_document(units, [unit_id])["units"][0], {"H", "S"})

    hand.open(f"{pages.address}/walkdown/new?unit={unit_id}")
    hand.write("#by", NAME)
    hand.press("form button:not([name])")
    hand.until(lambda: hand.has("begin"))
    hand.begin("hanging", NAME)
    given, not_seen = walk(hand, steps, photo)
    hand.write(key("notes"), "rubber new")
    hand.wait_until_saved()
    hand.until(lambda: "Verdict" in hand.text())
    hand.tap("sign")
    hand.until(lambda: hand.title == "Signed")
    check_kept(pages, unit_id, given, not_seen, "")

    route = tmp_path / "route.html"
    route.write_text(route_page(units, [unit_id], "one unit"), encoding="utf-8")
    hand.open(route.as_uri())
    hand.tap(f"unit={unit_id}")
    hand.begin("hanging", NAME)
    again = walk(hand, steps, photo)
    assert again == (given, not_seen)
    hand.write(key("notes"), "rubber new")
    hand.tap("sign")
    hand.until(lambda: hand.title == "Signed")
    hand.wait_until_saved()
    hand.tap("to-route")
    copy = hand.save_copy()
    bring_in(hand, pages, copy)
    check_kept(pages, unit_id, given, not_seen, "")
    rows = last_rows(pages, unit_id).drop(columns=["walkdown_id", "recorded_at", "row"])
    pd.testing.assert_series_equal(rows.iloc[-2], rows.iloc[-1], check_names=False)
