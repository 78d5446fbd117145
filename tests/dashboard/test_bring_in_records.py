"""Bring in records, in Streamlit's harness: nothing yet, questions, faults, mended, taken."""

from contextlib import closing

import pytest
from pages_in_harness import APP, words_of
from sqlalchemy import select
from stored_quarry import load_quarry
from streamlit.testing.v1 import AppTest

from dashboard import bringing, kept_by_name, launch_settings, results_in_use, session
from scoring.store.open_store import open_store
from scoring.store.schema import LOADS

UNITS = b"unit_id,site,installed_on,mounting,shaft_diameter_mm\n"
GOOD = UNITS + b"U-1,Quay,2024-03-01,keyed_bore,80\nU-2,Quay,2024-03-02,keyed_bore,90\n"
FAULTY = UNITS + b"".join(
    f"U-{n},Quay,2024-03-01,keyed_bore,{'8o' if n % 2 else '80'}\n".encode() for n in range(8)
)
UNCLEAR = b"Tag,Site,Installed,Mounting,Shaft diameter (mm)\nU-1,Quay,03/07/2024,keyed bore,80\n"


@pytest.fixture
def app(monkeypatch):
    monkeypatch.delenv(launch_settings.FLEET, raising=False)
    monkeypatch.setenv(launch_settings.AS_OF, "2026-06-30")
    return AppTest.from_file(APP, default_timeout=600).run()


def drop(app, **files):
    named = [(f"{name}.csv", data, "text/csv") for name, data in files.items()]
    app.file_uploader[0].set_value(named)
    return app.run()


def press(app, label):
    next(one for one in app.button if one.label == label).click()
    return app.run()


def labels(app):
    return [one.label for one in app.button]


def test_without_a_fleet_every_page_leads_here(app):
    assert not app.exception
    assert app.title[0].value == "Bring in records"
    assert "takes what inspectors saw" in words_of(app)
    assert "A list of units alone is enough" in words_of(app)
    app.switch_page("views/what_to_fix_first.py")
    app.run()
    assert app.title[0].value == "Bring in records"


def test_a_list_of_units_alone_is_taken_and_ranked_for_this_session_only(app):
    drop(app, units=GOOD)
    assert "No faults" in words_of(app)
    press(app, "Take these records")
    assert not app.exception
    assert app.title[0].value == "What to fix first"
    assert "seen in this session alone" in words_of(app)
    assert results_in_use.in_use.worked is None
    other = AppTest.from_file(APP, default_timeout=600).run()
    assert other.title[0].value == "Bring in records"
    assert "No faults" not in words_of(other)


def test_what_cannot_be_told_is_asked_and_the_answer_is_kept_for_the_next_files(app):
    drop(app, list=UNCLEAR)
    assert "Take these records" not in labels(app)
    assert any("In which order are dates written" in one.label for one in app.radio)
    for _ in range(5):
        if not app.radio:
            break
        app.radio[0].set_value(app.radio[0].options[0])
        app.run()
    assert not app.exception
    now = app.session_state[bringing.KEPT]
    assert now.open_questions() == ()
    assert now.checked().fleet.units["installed_on"].dt.strftime("%Y-%m-%d").tolist() == [
        "2024-07-03"
    ]
    plan = now.plan_text().encode()
    again = AppTest.from_file(APP, default_timeout=600).run()
    again.file_uploader[0].set_value(
        [("list.csv", UNCLEAR, "text/csv"), ("reading-plan.toml", plan, "application/toml")]
    )
    again.run()
    assert again.session_state[bringing.KEPT].open_questions() == ()
    assert "Take these records" in labels(again)


def test_faults_are_shown_with_their_rows_and_mended_alike(app):
    drop(app, units=FAULTY)
    assert "4 faults in 4 of 8 rows" in words_of(app)
    [listed] = [one.proto.body for one in app.get("html") if "listed faults" in one.proto.body]
    assert listed.count("8o") == 4
    assert "row 3" in listed
    [field] = [one for one in app.text_input if "8o" in one.label]
    field.set_value("80")
    press(app, "Check again with what I wrote")
    assert not app.exception
    assert "No faults" in words_of(app)
    press(app, "Take these records")
    assert len(session_fleet(app).units) == 8


def test_good_rows_can_be_taken_without_the_faulty_ones(app):
    drop(app, units=FAULTY)
    press(app, "Take the good rows, leave out the faulty ones")
    assert app.title[0].value == "What to fix first"
    assert len(session_fleet(app).units) == 4


def test_a_correction_of_a_line_changes_what_is_read(app):
    drop(app, units=GOOD)
    now = app.session_state[bringing.KEPT]
    now.tell("column.site", "units.line")
    app.run()
    assert not app.exception
    assert "units.site" in {q.key for q in now.open_questions()}


def test_a_file_that_cannot_be_read_is_told_and_nothing_is_lost(app):
    drop(app, units=GOOD)
    app.file_uploader[0].set_value([("broken.xlsx", b"no workbook", "x")])
    app.run()
    assert not app.exception
    assert "broken.xlsx" in app.error[0].value.replace("\\", "")
    assert list(app.session_state[bringing.KEPT].files) == ["units.csv"]


def test_a_fleet_with_faults_opens_here_at_its_faults(monkeypatch, tmp_path):
    (tmp_path / "units.csv").write_bytes(FAULTY)
    (tmp_path / "walkdowns.csv").write_text("walkdown_id,unit_id,inspected_on,kind\n")
    monkeypatch.setenv(launch_settings.FLEET, str(tmp_path))
    monkeypatch.setenv(launch_settings.AS_OF, "2026-06-30")
    app = AppTest.from_file(APP, default_timeout=600).run()
    assert app.title[0].value == "Bring in records"
    assert "4 faults in 4 of 8 rows" in words_of(app)
    next(one for one in app.text_input if "8o" in one.label).set_value("80")
    press(app, "Check again with what I wrote")
    press(app, "Take these records")
    assert not app.exception
    assert app.title[0].value == "What to fix first"


def test_into_the_store_in_the_name_of_who_takes_them(monkeypatch, tmp_path):
    monkeypatch.setattr(kept_by_name, "person", lambda: "")
    url = load_quarry(tmp_path / "quarry.db")
    monkeypatch.setenv(launch_settings.FLEET, url)
    monkeypatch.setenv(launch_settings.AS_OF, "2026-06-30")
    app = AppTest.from_file(APP, default_timeout=600).run()
    app.switch_page("views/bring_in_records.py")
    drop(app.run(), units=GOOD)
    next(one for one in app.text_input if one.label == "your name").set_value("Ann Bell")
    press(app, "Take these records")
    assert not app.exception
    assert app.title[0].value == "What to fix first"
    with closing(open_store(url)) as store, store.reading() as connection:
        last = connection.execute(select(LOADS).order_by(LOADS.c.at.desc())).first()
    assert (last.actor, last.source, last.added) == ("Ann Bell", "units.csv", 2)
    assert {"U-1", "U-2"} <= set(results_in_use.in_use.worked.fleet.assessor.fleet.units["unit_id"])


def session_fleet(app):
    return app.session_state[session.OWN].worked.fleet.assessor.fleet
