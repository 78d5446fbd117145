"""What axe-core, carried by a package, finds at a page that is open in a browser."""

from importlib.resources import files

from pages_server import PATIENCE_S

AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
FADED_IN = """() => document.getAnimations()
  .filter((one) => Number.isFinite(one.effect.getComputedTiming().endTime))
  .every((one) => one.playState !== "running")"""
"""What is still fading in has less contrast than it will have."""
LOOKS = 10
"""So often a page is looked at again that is not at rest."""
WEIGHTY = ("moderate", "serious", "critical")


def faults_of_access(page) -> list[str]:
    """Return each fault of weight: how weighty, which rule, where first, and what was measured.

    What a person reads is the page at rest; a fault of a page that is changing is gone when it is
    looked for again, so a fault counts once two looks in turn find the same.
    """
    page.evaluate(AXE)
    now = _found(page)
    if not now:
        return now
    for _ in range(LOOKS):
        before, now = now, _found(page)
        if now in ([], before):
            break
    return now


def _found(page) -> list[str]:
    page.wait_for_function(FADED_IN, timeout=1000 * PATIENCE_S)
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
    return [
        f"{one['impact']} {one['id']}: {one['nodes'][0]['html'][:160]}"
        f" {[test['data'] for test in one['nodes'][0]['any']]}"
        for one in found
        if one["impact"] in WEIGHTY
    ]
