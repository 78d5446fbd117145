"""Where the browser of the tests is, and how it is told to ask the network for nothing."""

import os
import shutil

import pytest

QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")


def chromium_or_skip() -> str:
    """Return where chromium is; without it a test is skipped, but fails where CI installs it."""
    if CHROMIUM is None:
        if os.environ.get("CI"):
            pytest.fail("no chromium: .ci/run installs it")
        pytest.skip("needs chromium, as Debian's package chromium")
    return CHROMIUM
