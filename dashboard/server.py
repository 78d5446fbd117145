"""The server: the Streamlit pages, and beside them the walkdown form."""

import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import streamlit as st
from starlette.middleware import Middleware

from dashboard import launch_settings, own_fault, worked_out_ahead
from dashboard.guard.around_the_app import Guard
from dashboard.guard.request_log import tell
from dashboard.health import health_route
from dashboard.walkdown.routes_when_asked import routes_when_asked
from scoring.access.who_asks import require_login


@asynccontextmanager
async def prepared(_: st.App) -> AsyncIterator[None]:
    """Begin to work out what the pages show before the first of them is opened."""
    threading.Thread(target=prepare, daemon=True).start()
    tell("started")
    yield
    tell("stopped")


def prepare() -> None:
    """Work out what the pages ask for, first what they ask for first."""
    worked_out_ahead.prepare()
    worked_out_ahead.prepare_what_may_wait()


def gate() -> list[Middleware]:
    """Return what stands before all else: the login, where there is one."""
    if not launch_settings.has_login():
        return []
    from dashboard.identity.gate import Gate  # noqa: PLC0415 - without a login nobody waits for it
    from dashboard.identity.login import login  # noqa: PLC0415

    require_login(login().asker_of_page)
    return [Middleware(Gate, login=login())]


app = st.App(
    Path(__file__).with_name("app.py"),
    lifespan=prepared,
    routes=[health_route(), *routes_when_asked()],
    middleware=[Middleware(Guard), *gate()],
    on_script_error=own_fault.show,
)
