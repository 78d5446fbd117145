"""What axe-core, carried by a package, finds at a page that is open in a browser."""

from importlib.resources import files

from pages_server import PATIENCE_S

AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
FADED_IN = """() => document.getAnimations()
  .filter((one) => Number.isFinite(one.effect.getComputedTiming().endTime))
  .every((one) => one.playState !== "running")"""
"""What is still fading in has less contrast than it will have."""
WEIGHTY = ("moderate", "serious", "critical")


def faults_of_access(page) -> list[str]:
    """Return each fault of weight: how weighty, which rule, and where first."""
    page.wait_for_function(FADED_IN, timeout=1000 * PATIENCE_S)
    page.evaluate(AXE)
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
    return [
        f"{one['impact']} {one['id']}: {one['nodes'][0]['html'][:160]}"
        for one in found
        if one["impact"] in WEIGHTY
    ]
