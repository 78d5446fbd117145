"""Who arrives at a page by an address sees what it says; who chooses on the page loses nothing."""

import pytest
from pages_in_harness import open_page
from streamlit.testing.v1 import AppTest


def little_page():
    """Be a page of two groups of choices, and of an address that a test can move."""
    import streamlit as st  # noqa: PLC0415 - the harness runs the body of this function alone

    from dashboard import choices_in_address as kept  # noqa: PLC0415

    kept.on_page(st.session_state.get("go to", "pit"))
    if st.session_state.get("go to", "pit") == "pit":
        kept.start({"colour": []}, {"colour": kept.some_of(["red", "blue"])})
        st.multiselect("colour", ["red", "blue"], key="colour", persist_state="session")
        kept.start({"row": 1}, {"row": kept.number(int, 1)})
        st.number_input("row", 1, key="row", persist_state="session")
    kept.write_down()
    st.json(kept.link_to("pit"))


@pytest.fixture
def app():
    return AppTest.from_function(little_page, default_timeout=60)


def address(app):
    said = app.query_params.items()
    return {name: [texts] if isinstance(texts, str) else list(texts) for name, texts in said}


def arrive(app, **said):
    for name in list(app.query_params):
        del app.query_params[name]
    for name, texts in said.items():
        app.query_params[name] = texts
    app.run()
    assert not app.exception
    return shown(app)


def shown(app):
    return app.multiselect(key="colour").value, app.number_input(key="row").value


def test_an_address_that_names_one_group_gives_up_what_was_chosen_of_the_other(app):
    assert arrive(app) == ([], 1)
    app.multiselect(key="colour").select("red").run()
    assert address(app) == {"colour": ["red"]}
    assert arrive(app, row=["7"]) == ([], 7)
    assert arrive(app, colour=["blue"]) == (["blue"], 1)
    assert arrive(app) == ([], 1)


def test_a_choice_is_kept_in_all_groups_and_written_in_one_step(app):
    arrive(app, row=["7"])
    app.multiselect(key="colour").select("red").run()
    assert shown(app) == (["red"], 7)
    assert address(app) == {"row": ["7"], "colour": ["red"]}
    app.number_input(key="row").set_value(1).run()
    assert address(app) == {"colour": ["red"]}
    app.run()
    assert shown(app) == (["red"], 1)


def test_a_choice_made_before_the_address_of_the_last_one_came_undoes_nothing(app):
    arrive(app)
    app.multiselect(key="colour").select("red").run()
    del app.query_params["colour"]
    app.number_input(key="row").set_value(3).run()
    assert shown(app) == (["red"], 3)
    assert address(app) == {"colour": ["red"], "row": ["3"]}


def test_an_address_that_is_followed_stays_as_it_is(app):
    assert arrive(app, colour=["red", "moon"], row=["none"], other=["x"]) == (["red"], 1)
    assert address(app) == {"colour": ["red", "moon"], "row": ["none"], "other": ["x"]}
    app.number_input(key="row").set_value(2).run()
    assert address(app) == {"colour": ["red"], "row": ["2"], "other": ["x"]}


def test_the_day_in_the_address_is_no_arrival(app):
    arrive(app)
    app.multiselect(key="colour").select("red").run()
    app.query_params["as_of"] = "2026-03-31"
    app.run()
    assert shown(app) == (["red"], 1)


def test_another_page_and_the_link_of_its_header_bring_back_what_was_chosen(app):
    arrive(app)
    app.multiselect(key="colour").select("blue").run()
    app.session_state["go to"] = "quay"
    app.query_params.clear()
    app.run()
    assert '"blue"' in app.json[0].value
    app.session_state["go to"] = "pit"
    assert arrive(app, colour=["blue"]) == (["blue"], 1)


def test_other_rows_or_another_order_begin_at_the_first_row(monkeypatch):
    app = open_page(monkeypatch, "what_to_fix_first")
    app.query_params["page"] = "2"
    app.run()
    assert app.selectbox(key="page").value == 2
    app.selectbox(key="by").select("chance of a seal leak").run()
    assert app.selectbox(key="page").value == 1
    assert address(app) == {"by": ["chance of a seal leak"]}
