"""Where the browser of the tests is, and how it is told to ask the network for nothing."""

import os
import shutil

import pytest

NOT_WANTED = (
    # Menus of the browser's own, drawn anew for each window: half the work of a short test.
    "WebUIOmniboxPopup",
    "WebUIOmniboxAimPopup",
    # What playwright leaves out too; the last list alone counts.
    "AimEnabled",
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsFirstBalancedModeAutoEnable",
    "HttpsUpgrades",
    "LensOverlay",
    "MediaRouter",
    "NetworkTimeServiceQuerying",
    "OptimizationHints",
    "PaintHolding",
    "PreconnectToSearch",
    "ThirdPartyStoragePartitioning",
)
QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
    f"--disable-features={','.join(NOT_WANTED)}",
]
"""It talks to this machine alone, and does nothing that nobody asked for."""

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")


def chromium_or_skip() -> str:
    """Return where chromium is; without it a test is skipped, but fails where CI installs it."""
    if CHROMIUM is None:
        if os.environ.get("CI"):
            pytest.fail("no chromium: .ci/run installs it")
        pytest.skip("needs chromium, as Debian's package chromium")
    return CHROMIUM
