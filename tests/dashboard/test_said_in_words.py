"""What a person can put right is said on the page, also where a part of it runs alone."""

from streamlit.testing.v1 import AppTest

PAGE = """
from dashboard import spoken as st
from scoring.access.who_asks import NotSignedInError
from scoring.errors import FixableError

@st.fragment
def part():
    raise {raised}

st.text("above")
part()
st.text("below")
"""


def page_whose_part(raised):
    return AppTest.from_string(PAGE.format(raised=raised)).run()


def test_a_part_that_refuses_says_what_to_put_right():
    page = page_whose_part("FixableError('the crew has *no* hours')")
    assert [one.value for one in page.error] == [r"the crew has \*no\* hours"]
    assert [one.value for one in page.text] == ["above"]
    assert not page.exception


def test_a_part_says_that_nobody_is_signed_in_any_more():
    page = page_whose_part("NotSignedInError()")
    assert [one.value for one in page.error] == ["You are signed out."]
    assert not page.exception


def test_a_fault_of_ours_is_not_taken_for_theirs():
    page = page_whose_part("ZeroDivisionError('all our own')")
    assert not page.error
    assert [one.message for one in page.exception] == ["all our own"]
