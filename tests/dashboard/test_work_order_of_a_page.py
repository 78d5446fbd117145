"""What the button of a plan gives: told, and on paper, as the person reads who asks."""

from types import SimpleNamespace

import pypdfium2
import pytest
from orders_to_print import WILD_IDS, a_stand, jobs_at
from printed_pages import text_of

from dashboard.work_order_file import pdf_of_kept_jobs, pdf_of_plan
from scoring.language.reading import Reading, reading_as
from scoring.planning.bundles import weigh_bundles
from scoring.planning.plan import make_plan
from scoring.planning.shutdowns import one_shutdown

LETTER_PT, A4_PT = (612, 792), (595, 842)


@pytest.fixture(scope="module")
def stands():
    return a_stand(4)


def shown(stands):
    return SimpleNamespace(assessor=stands.assessor)


def size_of(pdf):
    return tuple(round(side) for side in pypdfium2.PdfDocument(pdf)[0].get_size())


def test_a_kept_plan_is_told_as_the_person_reads(stands):
    jobs = jobs_at(stands).assign(hours=4.0)
    with reading_as(Reading("de", "space_comma")):
        german = pdf_of_kept_jobs(jobs, stands, shown(stands), 7.5)
    with reading_as(Reading("en", "space_point", "inch")):
        inches = pdf_of_kept_jobs(jobs, stands, shown(stands), 7.5)
    assert "zu je 7,5 Stunden" in text_of(german)[0]
    assert size_of(german) == A4_PT
    assert "of 7.5 hours" in text_of(inches)[0]
    assert size_of(inches) == LETTER_PT
    assert "lbf·ft" in " ".join(text_of(inches))


def test_a_unit_that_is_gone_is_told_and_has_no_page(stands):
    jobs = jobs_at(stands).assign(hours=4.0)
    jobs["unit_id"] = jobs["unit_id"].replace({WILD_IDS[1]: "GONE-7"})
    pages = text_of(pdf_of_kept_jobs(jobs, stands, shown(stands), 8.0))
    assert any("no longer in service GONE-7" in page for page in pages)


def test_the_plan_that_is_shown_gives_its_jobs(stands):
    day = stands.assessment.known.as_of
    weighed = weigh_bundles(stands.assessor, stands.assessment, stands.success, stands.efforts)
    plan = make_plan(weighed, stands.assessment.ranking, one_shutdown(day, 60, people=4))
    assert len(plan.jobs)
    whole = " ".join(text_of(pdf_of_plan(plan, stands, shown(stands), 8.0)))
    assert all(unit_id in whole for unit_id in plan.jobs["unit_id"])
