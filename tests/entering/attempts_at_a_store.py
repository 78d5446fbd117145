"""What people do at open pages while something happens to the store below."""

from at_the_machine import UNIT

ANSWER = "SELECT value FROM draft_answers WHERE draft_id = ? AND field = ?"
DRAFTS = "SELECT count(*) FROM drafts WHERE unit_id = ?"
SEVERAL = 5
"""Attempts that ``try_all`` makes."""


def try_all(routes, held, draft_id, number, unit_id=UNIT):
    """Write and read in each way; return what was refused, after proving what was not.

    ``held(query, *values)`` asks what lies at the store's address, as a stranger would.
    """
    refused = []
    for field in ("notes", "inspector"):
        value = f"{field} {number}"
        answer = routes.give(draft_id, field, value)
        if answer.code == 200:
            assert held(ANSWER, draft_id, field) == value
        refused.append(answer)
    before = held(DRAFTS, unit_id)
    begun = routes.begin(unit_id)
    if begun.code == 303:
        assert held(DRAFTS, unit_id) == str(int(before) + 1)
    refused.append(begun)
    refused += [routes.ask("GET", f"/walkdown/{draft_id}"), routes.ask("GET", "/walkdown")]
    return [answer for answer in refused if answer.code not in (200, 303)]


def require_words(refused, caplog):
    """Hold what was refused to one message each that says what to do, and no traceback."""
    for answer in refused:
        assert answer.code == 503, answer.text
        assert any(words in answer.text for words in ("again", "mount-risk", "Put")), answer.text
    assert [record for record in caplog.records if record.exc_info] == []


def told_in(refused, *hidden):
    """Return what was said, each once, without what differs from run to run."""
    said = set()
    for answer in refused:
        text = answer.text
        if "words" in text[:10]:
            text = text[10:-2]
        else:
            text = text.partition('class="note">')[2].partition("</p>")[0]
        for part in hidden:
            text = text.replace(part, "…")
        said.add(text)
    return sorted(said)
