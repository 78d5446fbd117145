"""Messy files dropped on the page, in a real browser: to the ranking without the command line."""

import csv
import io
import zipfile

import pandas as pd
import pytest
from asked_ranking import by_id_as_written, ranking
from pages_server import PATIENCE_S, free_port, start_pages, stop_pages
from playwright.sync_api import expect
from read_messy_fleet import keys_of
from twelve_fleets import MAKERS

from dashboard.bringing import Bringing
from dashboard.presenters.bring_words import choice_said, question_said, taken_for, targets
from scoring.reading_plan.what_a_plan_says import Query

pytestmark = pytest.mark.browser

PATIENCE_MS = 1000 * PATIENCE_S
RELATIVE = 2e-7
AS_OF = "2026-05-31"


@pytest.fixture(scope="module")
def address():
    """Show nothing yet, as of the last day of the first month; return the address."""
    port = free_port()
    process = start_pages("--as-of", AS_OF, port=port)
    yield f"http://127.0.0.1:{port}"
    stop_pages(process)


@pytest.fixture
def page(browser, address):
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    opened = context.new_page()
    opened.set_default_timeout(PATIENCE_MS)
    opened.goto(address)
    expect(heading(opened, "Bring in records")).to_be_visible(timeout=PATIENCE_MS)
    yield opened
    context.close()


def heading(page, name):
    return page.get_by_role("heading", name=name, exact=True)


def steps_in_turn(fleet):
    """Return what a person does in the page once the files are there, in turn.

    A column that is taken for another one is corrected first; then what is asked is answered, in
    the order in which the page asks.
    """
    now, steps = brought(fleet), []
    for one in fleet.answers:
        if one.about == "column":
            steps += [(correct, *told) for told in corrections(now, one)]
    while now.open_questions():
        told = {key: said for one in fleet.answers for key, said in keys_of(one, now.plan)}
        question = next(q for q in now.open_questions() if q.key in told)
        steps.append((answer, question, told[question.key]))
        now.tell(question.key, told[question.key])
    assert len(steps) <= 10
    return steps


def corrections(now, one):
    """Correct a column where it is taken for something else; return place, heading, what is said.

    What is asked is no correction.
    """
    found = []
    for place in range(len(now.plan.tables)):
        part = now.plan.tables[place]
        column = part.by_heading().get(one.subject)
        fits = {said: told for said, told in targets(part).items() if means(told, one.says)}
        asked = column is not None and taken_for(column) == "asked above"
        if column is not None and fits and not asked and taken_for(column) not in fits:
            said = next(iter(fits))
            now.tell(f"column.{one.subject}", fits[said])
            found.append((place, one.subject, said))
    return found


def means(told, column):
    return told == column or told.rpartition(".")[2] == column


def choose(page, field, said):
    field.click()
    field.fill("")
    field.press_sequentially(said)
    page.get_by_role("option", name=said, exact=True).click()


def correct(page, place, heading, said):
    choose(page, page.get_by_role("combobox", name="correct a column").nth(place), heading)
    stands_for = page.get_by_role("combobox", name="it stands for")
    expect(stands_for).to_have_count(1, timeout=PATIENCE_MS)
    choose(page, stands_for, said)
    row = (
        page.locator("table.columns")
        .nth(place)
        .get_by_role("row")
        .filter(has=page.get_by_role("cell", name=heading, exact=True))
    )
    expect(row).to_contain_text(said, timeout=PATIENCE_MS)


def answer(page, question, said):
    kind = "stRadio" if len(question.choices) <= 5 and not question.free else "stSelectbox"
    asked = page.get_by_test_id(kind).filter(has_text=question_said(question.asks))
    if kind == "stRadio":
        asked.first.get_by_text(choice_said(said), exact=True).click()
    else:
        asked.first.get_by_role("combobox").fill(choice_said(said))
        page.keyboard.press("Enter")
    expect(asked).to_have_count(0, timeout=PATIENCE_MS)


def ranking_saved(page):
    """Save all tables on the page of the ranking, and read the ranking among them."""
    page.get_by_text("All tables as files").last.click()
    with page.expect_download(timeout=PATIENCE_MS) as saved:
        page.get_by_role("button", name="Save all tables as CSV").click()
    with zipfile.ZipFile(saved.value.path()) as packed:
        name = next(one for one in packed.namelist() if one.endswith("ranking.csv"))
        return pd.read_csv(io.BytesIO(packed.read(name)))


def ask_database(page, number, query):
    field = page.get_by_label("query: SELECT ...")
    expect(field).to_have_count(1, timeout=PATIENCE_MS)
    field.fill(query)
    page.get_by_role("button", name="Ask the database").click()
    expect(page.get_by_text(f"query {number}: ")).to_be_visible(timeout=PATIENCE_MS)


def name_plants(page, plants):
    page.get_by_text("These are records of several plants").click()
    for file, plant in plants.items():
        page.get_by_label(f"plant of {file}", exact=True).fill(plant)
    page.get_by_role("button", name="Keep numbers of these plants apart").click()


@pytest.mark.parametrize("name", list(MAKERS))
def test_messy_files_that_are_dropped_rank_as_clean_ones(name, page, tmp_path):
    fleet = MAKERS[name](tmp_path / "records")
    steps = steps_in_turn(fleet)
    page.locator("input[type=file]").set_input_files(files_of(fleet))
    for number, query in enumerate((s.query for s in fleet.first.sources if s.query), 1):
        ask_database(page, number, query)
    plants = plants_of(fleet)
    if plants:
        name_plants(page, plants)
    for step, *what in steps:
        step(page, *what)
    page.get_by_role("button", name="Take these records").click()
    expect(heading(page, "What to fix first")).to_be_visible(timeout=PATIENCE_MS)
    true = ranking(fleet.first.clean, AS_OF, tmp_path / "clean")
    said = ranking_saved(page)[list(true.columns)]
    pd.testing.assert_frame_equal(
        by_id_as_written(said, fleet.id_as_written),
        by_id_as_written(true, fleet.id_as_written),
        check_exact=False,
        rtol=RELATIVE,
        atol=0,
    )


def test_a_column_that_is_corrected_takes_its_questions_with_it(tmp_path):
    fleet = MAKERS["one_row_a_unit_in_inches"](tmp_path / "records")
    now = dropped(fleet)
    assert any("'Bore'" in question.asks for question in now.open_questions())
    now.tell("column.Bore", "units.mounting")
    assert not any("bore_condition" in question.key for question in now.open_questions())


def dropped(fleet):
    now = Bringing()
    now.drop({path.name: path.read_bytes() for path in files_of(fleet)})
    return now


def brought(fleet):
    """Bring in the files of a fleet, what its queries answer, and the names of its plants."""
    now = dropped(fleet)
    for number, source in enumerate((s for s in fleet.first.sources if s.query), 1):
        now.ask(Query(f"query {number}", f"sqlite:///{source.path.name}", source.query))
    now.of_plants(plants_of(fleet))
    return now


def files_of(fleet):
    return list(dict.fromkeys(source.path for source in fleet.first.sources))


def plants_of(fleet):
    return {source.path.name: source.plant for source in fleet.first.sources if source.plant}


def test_a_hundred_faults_are_shown_mended_and_lead_to_the_ranking(browser, tmp_path):
    headings = ["unit_id", "site", "installed_on", "mounting", "shaft_diameter_mm"]
    rows = [
        [f"U-{n}", "Quay", "2024-03-01", "keyed_bore", "80"] if n % 2 else
        [f"U-{n}", "Quay", "2024-03-01", "keyed bor", "8o"]
        for n in range(100)
    ]  # fmt: skip
    rows[10][3:] = ["shrink dsc", "9o"]
    with (tmp_path / "units.csv").open("w", newline="") as file:
        csv.writer(file).writerows([headings, *rows])
    (tmp_path / "walkdowns.csv").write_text("walkdown_id,unit_id,inspected_on,kind\n")
    port = free_port()
    process = start_pages(str(tmp_path), port=port)
    try:
        page = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
        page.set_default_timeout(PATIENCE_MS)
        page.goto(f"http://127.0.0.1:{port}/fix")
        expect(heading(page, "Bring in records")).to_be_visible(timeout=PATIENCE_MS)
        expect(page.locator("table.faults tbody tr")).to_have_count(100, timeout=PATIENCE_MS)
        expect(page.get_by_text("100 faults in 50 of 100 rows")).to_be_visible()
        page.get_by_label("shaft_diameter_mm: in place of '8o', in 49 rows").fill("80")
        page.get_by_label("shaft_diameter_mm: in place of '9o', in row 12").fill("90")
        mounting = "mounting: in place of"
        for found, said in (
            ("'keyed bor', in 49 rows", "keyed_bore"),
            ("'shrink dsc', in row 12", "shrink_disc"),
        ):
            page.get_by_role("combobox", name=f"{mounting} {found}").fill(said)
            page.keyboard.press("Enter")
        page.get_by_role("button", name="Check again with what I wrote").click()
        expect(page.get_by_text("No faults. These records can be taken: 100 units")).to_be_visible(
            timeout=PATIENCE_MS
        )
        page.get_by_role("button", name="Take these records").click()
        expect(heading(page, "What to fix first")).to_be_visible(timeout=PATIENCE_MS)
        expect(page.get_by_text("100 units in service")).to_be_visible(timeout=PATIENCE_MS)
    finally:
        stop_pages(process)


def test_no_other_session_sees_what_one_brings_in(browser, page, address):
    page.locator("input[type=file]").set_input_files(
        {
            "name": "units.csv",
            "mimeType": "text/csv",
            "buffer": b"unit_id,site,installed_on,mounting,shaft_diameter_mm\n"
            b"OURS-1,Quay,2024-03-01,keyed_bore,80\n",
        }
    )
    page.get_by_role("button", name="Take these records").click()
    expect(page.get_by_text("OURS-1").first).to_be_visible(timeout=PATIENCE_MS)
    other = browser.new_context().new_page()
    other.goto(f"{address}/fix", timeout=PATIENCE_MS)
    expect(heading(other, "Bring in records")).to_be_visible(timeout=PATIENCE_MS)
    expect(other.get_by_text("OURS-1")).to_have_count(0)
