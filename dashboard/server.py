"""The server: the Streamlit pages, and beside them the walkdown form."""

import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import streamlit as st

from dashboard import own_fault, session
from dashboard.walkdown.http_routes import http_routes


@asynccontextmanager
async def prepared(_: st.App) -> AsyncIterator[None]:
    """Begin to work out what the pages show before the first of them is opened."""
    threading.Thread(target=session.prepare, daemon=True).start()
    yield


app = st.App(
    Path(__file__).with_name("app.py"),
    lifespan=prepared,
    routes=http_routes(),
    on_script_error=own_fault.show,
)
