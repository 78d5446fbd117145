"""Records in Streamlit's harness: from databases, of several plants, a column corrected."""

import sqlite3
from contextlib import closing

import pytest
from pages_in_harness import APP, words_of
from streamlit.testing.v1 import AppTest

from dashboard import bringing, launch_settings
from scoring.errors import FixableError
from scoring.reading_plan.what_a_plan_says import Query

UNITS = b"unit_id,site,installed_on,mounting,shaft_diameter_mm\n"
ONE = UNITS + b"U-1,Quay,2024-03-01,keyed_bore,80\n"
OTHER = UNITS + b"U-1,Pit,2024-04-01,keyed_bore,95\n"
SECRET = "hush-hush"  # noqa: S105 - of nobody


@pytest.fixture
def app(monkeypatch):
    monkeypatch.delenv(launch_settings.FLEET, raising=False)
    monkeypatch.delenv(launch_settings.ASK_DATABASES, raising=False)
    monkeypatch.setenv(launch_settings.AS_OF, "2026-06-30")
    return AppTest.from_file(APP, default_timeout=600).run()


@pytest.fixture
def plant(tmp_path):
    path = tmp_path / "plant.db"
    with closing(sqlite3.connect(path)) as base:
        base.execute("CREATE TABLE equipment (no TEXT, site TEXT, hung TEXT, mount TEXT, dia REAL)")
        base.execute("INSERT INTO equipment VALUES ('C-1', 'Quay', '2024-03-01', 'keyed bore', 80)")
        base.commit()
    return path


def drop(app, *files):
    app.file_uploader[0].set_value([(name, data, "x") for name, data in files])
    return app.run()


def press(app, label):
    next(one for one in app.button if one.label == label).click()
    return app.run()


def now(app):
    return app.session_state[bringing.KEPT]


def test_whole_tables_of_a_dropped_database_are_brought_in(app, plant):
    drop(app, ("plant.db", plant.read_bytes()))
    assert "Nothing is read yet" in words_of(app)
    app.multiselect[0].select("equipment (no, site, hung, mount, dia)")
    press(app, "Bring in these tables")
    assert not app.exception
    assert now(app).answered["equipment"].query == 'SELECT * FROM "equipment"'
    assert [part.sources for part in now(app).plan.tables] == [("equipment",)]
    press(app, "Leave out")
    assert now(app).plan.tables == ()


def test_the_plan_that_was_saved_asks_a_dropped_database_again(app, plant):
    drop(app, ("plant.db", plant.read_bytes()))
    app.text_area[0].set_value("SELECT * FROM equipment WHERE dia > 10")
    press(app, "Ask the database")
    plan = now(app).plan_text().encode()
    assert b"sqlite:///plant.db" in plan
    again = AppTest.from_file(APP, default_timeout=600).run()
    drop(again, ("plant.db", plant.read_bytes()), ("reading-plan.toml", plan))
    assert not again.exception
    assert list(now(again).answered) == ["query 1"]


def test_a_query_that_fails_is_told_and_loses_nothing(app, plant):
    drop(app, ("plant.db", plant.read_bytes()))
    app.text_area[0].set_value("DROP TABLE equipment")
    press(app, "Ask the database")
    assert "one statement that begins with SELECT" in app.error[0].value
    assert app.text_area[0].value == "DROP TABLE equipment"
    assert now(app).answered == {}


def test_no_address_is_asked_unless_the_command_line_lets_it(app, plant):
    assert not any("address" in one.label for one in app.text_input)
    drop(app, ("units.csv", ONE))
    with pytest.raises(FixableError, match="--ask-databases"):
        now(app).ask(Query("query 1", f"sqlite:///{plant}", "SELECT * FROM equipment"))
    outside = f"sqlite:////elsewhere/{plant.name}"
    with pytest.raises(FixableError, match="--ask-databases"):
        now(app).ask(Query("query 1", outside, "SELECT * FROM equipment"))


def test_a_plan_makes_no_database_asked_by_itself(monkeypatch, app, plant):
    monkeypatch.setenv(launch_settings.ASK_DATABASES, "yes")
    text = f"[[query]]\nname = 'q'\ndatabase = 'sqlite:///{plant}'\nquery = 'SELECT 1'\n"
    drop(app, ("reading-plan.toml", text.encode()), ("units.csv", ONE))
    assert now(app).answered == {}
    assert [one.name for one in now(app).to_ask_again] == ["q"]
    press(app, "Ask what the plan asks")
    assert list(now(app).answered) == ["q"]


def test_a_password_is_kept_nowhere(monkeypatch, plant, caplog):
    asked = []

    def grid(query, *, password, bounds):
        asked.append((query, password, bounds))
        return bringing.ask_database_file(query, plant.read_bytes())

    monkeypatch.delenv(launch_settings.FLEET, raising=False)
    monkeypatch.setenv(launch_settings.ASK_DATABASES, "yes")
    monkeypatch.setattr(bringing, "read_query_grid", grid)
    app = AppTest.from_file(APP, default_timeout=600).run()
    next(one for one in app.text_input if "address" in one.label).set_value("postgresql://a@b/c")
    next(one for one in app.text_input if one.label == "password").set_value(SECRET)
    app.text_area[0].set_value("SELECT * FROM equipment")
    press(app, "Ask the database")
    assert not app.exception
    [(query, password, bounds)] = asked
    assert (query.database, query.password_from, password) == ("postgresql://a@b/c", "", SECRET)
    assert bounds is not None
    assert list(now(app).answered) == ["query 1"]
    assert SECRET not in now(app).plan_text()
    assert SECRET not in repr(now(app))
    assert SECRET not in words_of(app)
    assert SECRET not in str(app.session_state._state.filtered_state)  # noqa: SLF001 - all a session holds
    assert SECRET not in caplog.text


def test_plants_that_number_alike_are_kept_apart(app):
    drop(app, ("units.csv", ONE), ("units.csv", OTHER))
    assert list(now(app).files) == ["units.csv", "units (2).csv"]
    for one in app.text_input:
        if one.label.startswith("plant of "):
            one.set_value("North" if "(2)" in one.label else "South")
    press(app, "Keep numbers of these plants apart")
    assert not app.exception
    units = now(app).checked().fleet.units
    assert dict(zip(units["unit_id"], units["site"], strict=True)) == {
        "South/U-1": "Quay",
        "North/U-1": "Pit",
    }


def test_a_column_and_its_unit_are_corrected_by_choice(app):
    rows = b"Tag,Site,Installed,Mounting,Shaft\nU-1,Quay,2024-03-01,keyed bore,3.5\n"
    drop(app, ("list.csv", rows))
    choose(app, "correct a column", "Site")
    choose(app, "it stands for", "units: line")
    assert now(app).told["column.Site"] == "units.line"
    choose(app, "correct a column", "Shaft")
    choose(app, "it stands for", "units: shaft diameter, mm")
    choose(app, "in", "in")
    assert now(app).told["unit.Shaft"] == "in"
    choose(app, "correct a column", "Mounting")
    choose(app, "'keyed bore' stands for", "shrink_disc")
    assert now(app).told["units.mounting.keyed bore"] == "shrink_disc"
    assert not app.exception


def choose(app, label, said):
    next(one for one in app.selectbox if one.label == label).set_value(said)
    return app.run()
