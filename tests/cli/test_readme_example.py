"""What the README says a command prints is what it prints."""

from readme_ranking import WIDTH, shown_and_printed

from scoring.cli import screen


def test_the_ranking_in_the_readme_is_the_one_printed(monkeypatch):
    monkeypatch.setattr(screen.out, "width", WIDTH)
    _, shown, _, printed = shown_and_printed()
    assert printed.split() == shown.split()
