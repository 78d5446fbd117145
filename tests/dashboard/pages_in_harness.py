"""Open the pages in Streamlit's own harness."""

from pathlib import Path

from kept_plants import SMALL_QUARRY
from streamlit.testing.v1 import AppTest

from dashboard import session, started_with

APP = str(Path(session.__file__).parent / "app.py")


def open_page(monkeypatch, page, fleet=SMALL_QUARRY, as_of="2026-06-30", **query):
    """Open a page by its file; the harness knows pages only after a run, here one of no fleet."""
    monkeypatch.delenv(started_with.FLEET, raising=False)
    app = AppTest.from_file(APP, default_timeout=600).run()
    monkeypatch.setenv(started_with.FLEET, fleet)
    monkeypatch.setenv(started_with.AS_OF, as_of)
    app.switch_page(f"views/{page}.py")
    for name, value in query.items():
        app.query_params[name] = value
    return app.run()


def metrics(app):
    return {metric.label: metric.value for metric in app.metric}


def words_of(app):
    return "\n".join(
        str(element.value)
        for kind in (app.subheader, app.markdown, app.text, app.info, app.caption)
        for element in kind
    )
