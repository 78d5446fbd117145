"""One playwright in a process: two of its loops cannot run at the same time."""

import os
import shutil

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")


def chromium_or_skip() -> str:
    """Return where chromium is; without it a test is skipped, but fails where CI installs it."""
    if CHROMIUM is None:
        if os.environ.get("CI"):
            pytest.fail("no chromium: .ci/run installs it")
        pytest.skip("needs chromium, as Debian's package chromium")
    return CHROMIUM


def running_playwright(config: pytest.Config):
    """Return the playwright of this process; started when first asked for, stopped at the end."""
    if not hasattr(config, "running_playwright"):
        from playwright.sync_api import sync_playwright  # noqa: PLC0415 - only where needed

        config.running_playwright = sync_playwright().start()
        config.add_cleanup(config.running_playwright.stop)
    return config.running_playwright
