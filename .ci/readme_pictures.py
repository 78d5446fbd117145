"""Take the pictures of the README anew, from the demo plant on a server of its own.

``python .ci/readme_pictures.py`` writes ``dashboard/pictures``; it needs Debian's package chromium.
"""

import io
import shutil
import sys
from importlib import import_module
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, expect, sync_playwright

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "dashboard" / "pictures"
sys.path.insert(0, str(ROOT / "tests" / "running"))
server_of_tests = import_module("pages_server")

PLANT, DAY = "demo:ore_works", "2026-06-30"
WIDTH = 1280
"""As wide as a desk; each is as high as what is worth showing. [px]"""

SHOWN = {
    "what_to_fix_first": ("/fix", 1040),
    "what_to_do_in_a_shutdown": ("/plan", 1180),
    "one_unit": ("/unit?unit=UP-1941", 960),
    "is_it_getting_better": ("/trend", 1120),
    "how_far_to_trust": ("/trust", 760),
}
COLOURS = 128
PATIENCE_MS = 1000 * server_of_tests.PATIENCE_S


def main() -> None:
    """Take every picture."""
    port = server_of_tests.free_port()
    server = server_of_tests.start_pages(PLANT, "--as-of", DAY, port=port)
    try:
        with sync_playwright() as play:
            browser = play.chromium.launch(
                executable_path=shutil.which("chromium"), args=["--no-sandbox"]
            )
            for name, (path, height) in SHOWN.items():
                page = browser.new_page(
                    viewport={"width": WIDTH, "height": height},
                    color_scheme="light",
                    reduced_motion="reduce",
                    locale="en-GB",
                )
                page.goto(f"http://127.0.0.1:{port}{path}", timeout=PATIENCE_MS)
                _wait_until_shown(page)
                _write(page.screenshot(), PICTURES / f"{name}.png")
                print(name)
                page.close()
            browser.close()
    finally:
        server_of_tests.stop_pages(server)


def _wait_until_shown(page: Page) -> None:
    """Wait for the cautions, which stand last, for what is worked out meanwhile, and for charts."""
    page.get_by_text("Before any work: lock out").wait_for(timeout=PATIENCE_MS)
    working = page.get_by_text("Working out the month-ends")
    expect(working).to_have_count(0, timeout=PATIENCE_MS)
    expect(page.get_by_test_id("stApp")).to_have_attribute(
        "data-test-script-state", "notRunning", timeout=PATIENCE_MS
    )
    expect(page.get_by_test_id("stSkeleton")).to_have_count(0, timeout=PATIENCE_MS)
    charts = page.get_by_test_id("stVegaLiteChart")
    for chart in charts.filter(visible=True).all():  # what is folded away is not drawn
        chart.locator("canvas, svg").first.wait_for(timeout=PATIENCE_MS)
    page.wait_for_timeout(1000)  # what fades in has no end that one could wait for


def _write(picture: bytes, path: Path) -> None:
    """Write a picture in few colours: the repository keeps every one of them for ever."""
    image = Image.open(io.BytesIO(picture)).convert("RGB")
    image.quantize(COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)


if __name__ == "__main__":
    main()
