"""What runs with the program: its licences are listed, and known vulnerabilities are told."""

import re
from importlib.metadata import metadata

import audit
import licences
import pytest
from audit import Audit, read, tell


def test_the_list_of_licences_is_up_to_date():
    assert licences.kept() == licences.licences(), "run python .ci/licences.py"


def test_every_version_is_the_one_that_is_pinned():
    text = (licences.ROOT / "constraints.txt").read_text(encoding="utf-8")
    for name, versions, _ in licences.kept():
        pinned = re.findall(rf"^{re.escape(name)}==([^ \n]+)", text, re.MULTILINE)
        assert versions == " or ".join(pinned), name


def test_every_licence_is_stated_and_lets_us_be_passed_on():
    """Each lets a program under the MIT licence use it as a library of its own."""
    known = r"MIT|BSD|Apache|PSF|MPL|Mozilla Public|ISC|0BSD|Zlib|CC0|LGPL"
    for name, _, licence in licences.kept():
        assert re.search(known, licence), (name, licence)
    copyleft = {name for name, _, licence in licences.kept() if "GPL" in licence}
    assert copyleft == {"psycopg", "psycopg-binary"}


def test_a_package_brings_what_its_extra_brings():
    plain = licences.needed(licences.Requirement("mount-risk"))
    with_store = licences.needed(licences.Requirement("mount-risk[postgresql]"))
    assert with_store - plain == {"psycopg", "psycopg-binary"}
    assert {"numpy", "pandas", "streamlit", "tzdata"} <= plain
    on_others = licences.needed(licences.Requirement("mount-risk[cluster]"))
    assert {"dask", "distributed", "tornado", "zict"} <= on_others
    assert licences.needed(licences.OURS) == with_store | on_others
    assert "pytest" not in licences.needed(licences.OURS)


def test_every_extra_that_a_user_may_add_is_listed():
    """All but that of the tests, which is for who works on it."""
    assert licences.OURS.extras == set(metadata("mount-risk").get_all("Provides-Extra")) - {"test"}


@pytest.mark.parametrize(
    ("stated", "told"),
    [
        ({"License-Expression": "MIT", "License": "other"}, "MIT"),
        ({"Classifier": "License :: OSI Approved :: BSD License"}, "BSD License"),
        ({"License": "Zlib\nand its text", "Classifier": "Topic :: Text"}, "Zlib"),
        ({}, "not stated"),
    ],
)
def test_a_licence_is_what_the_package_states(stated, told):
    class Stated(dict):
        def get_all(self, name):
            return [self[name]] if name in self else None

    assert licences.licence(Stated(stated)) == told


def test_an_unanswered_finding_fails_and_an_answered_one_does_not(monkeypatch, capsys):
    found = Audit(3, ("d",), {"X-1": "a 1, mended in 2", "X-2": "b 1, mended in 3"})
    monkeypatch.setattr(audit, "ANSWERED", {"X-2": "We never call it."})
    assert tell(found) == 1
    said = capsys.readouterr().out
    assert "X-1: a 1, mended in 2. NOT ANSWERED" in said
    assert "X-2: b 1, mended in 3. We never call it." in said
    assert "3 packages audited, 2 findings, 1 not answered" in said
    assert "1 not audited" in said


def test_a_clean_report_is_clean(capsys):
    assert tell(read('{"dependencies": [{"name": "a", "version": "1", "vulns": []}]}')) == 0
    assert capsys.readouterr().out == "1 packages audited, 0 findings, 0 not answered\n"
