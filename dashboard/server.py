"""The server: the Streamlit pages, and beside them the walkdown form."""

from pathlib import Path

import streamlit as st

from dashboard.walkdown.http_routes import http_routes

app = st.App(Path(__file__).with_name("app.py"), routes=http_routes())
