"""Open the pages in Streamlit's own harness."""

import re
from html import unescape
from pathlib import Path

from kept_plants import SMALL_QUARRY
from streamlit.testing.v1 import AppTest

from dashboard import launch_settings, session
from dashboard.presenters.unit_sheet import topics as topics_of

_TAG = re.compile(r"<[^>]*>")
_OF = re.compile(r'<span class="of">[^<]*</span>')
_CELL = re.compile(r"<t[hd][ >].*?</t[hd]>", re.DOTALL)

APP = str(Path(session.__file__).parent / "app.py")


def open_page(monkeypatch, page, fleet=SMALL_QUARRY, spoken_of="2026-06-30", unfolded=(), **query):
    """Open a page by its file; the harness knows pages only after a run, here one of no fleet."""
    monkeypatch.delenv(launch_settings.FLEET, raising=False)
    app = AppTest.from_file(APP, default_timeout=600).run()
    monkeypatch.setenv(launch_settings.FLEET, fleet)
    monkeypatch.setenv(launch_settings.AS_OF, spoken_of)
    app.switch_page(f"views/{page}.py")
    for name, value in query.items():
        app.query_params[name] = value
    for key in unfolded:
        app.session_state[key] = True
    return app.run()


FOLDED_OF_A_UNIT = (
    "History",
    "What drives each risk",
    "Where every number comes from",
    "Every check and what is known of it",
    "Nameplate",
)


def folded_of(unit_id):
    """Return the keys of all that is folded away on the page of a unit, topic by topic."""
    topics = topics_of(session.explanation(unit_id))
    return (*FOLDED_OF_A_UNIT, *(f"{unit_id} {topic}" for topic in topics))


def metrics(app):
    return {metric.label: metric.value for metric in app.metric}


def words_of(app):
    plain = (app.header, app.subheader, app.markdown, app.text, app.info, app.caption)
    said = [str(element.value) for kind in plain for element in kind]
    pages = (one.proto.body for one in app.get("html") if not one.proto.body.startswith("<style>"))
    return "\n".join([*said, *(_TAG.sub(" ", page) for page in pages)])


def tables_of(app, kind="framed"):
    """Return the tables of one kind on a page: of each its rows, by the words of the headings."""
    pages = "".join(one.proto.body for one in app.get("html"))
    found = []
    for table in re.findall(rf'<table class="{kind}".*?</table>', pages, re.DOTALL):
        heads, *rows = re.findall(r"<tr.*?</tr>", table, re.DOTALL)
        names = [_words(cell) for cell in _CELL.findall(heads)]
        found.append(
            [dict(zip(names, map(_words, _CELL.findall(row)), strict=True)) for row in rows]
        )
    return found


def _words(cell):
    return " ".join(unescape(_TAG.sub("", _OF.sub("", cell))).split())
