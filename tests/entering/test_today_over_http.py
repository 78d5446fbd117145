"""Today on a real server: what I began, what is due in walking order, what others signed."""

import re
import time
from html import unescape
from urllib.parse import quote

import pytest
from kept_plants import SMALL_QUARRY
from over_http import Server
from pages_server import PATIENCE_S


@pytest.fixture(scope="module")
def over_files(tmp_path_factory):
    started = Server(str(SMALL_QUARRY), tmp_path_factory.mktemp("files") / "log.txt")
    yield started
    started.stop()
    assert "Traceback" not in started.log.read_text()


def opened(server, path="/today", person="Ben Meier", **cookies):
    """Open the page, again while what is due is worked out: a busy machine takes longer for it."""
    kept = "; ".join(f"{name}={quote(value)}" for name, value in cookies.items())
    end = time.monotonic() + PATIENCE_S
    while True:
        answer = server.ask("GET", path, headers={"Cookie": f"person={quote(person)}; {kept}"})
        assert answer.code == 200, answer.text
        if "What is due is being worked out" not in answer.text or time.monotonic() > end:
            return unescape(answer.text)
        time.sleep(0.2)


def next_of(page):
    return re.search(r"<h2>Next: (\S+)</h2>", page).group(1)


def then_of(page):
    return re.findall(r'class="row" href="/walkdown/new\?unit=([^"]+)"', page)


def without_script(page):
    return re.sub(r"<script>.*?</script>", "", page, flags=re.DOTALL)


def test_what_is_due_stands_in_walking_order_with_why_and_one_button(server):
    page = opened(server)
    first, rows = next_of(page), then_of(page)
    assert len(rows) == 10
    assert f'value="{first}"' in page
    assert page.count("<button>Begin") == 1
    assert "never seen: " in page or "seen too long ago: " in page
    assert "lock out and tag out" in page
    assert re.search(r"Nothing begun, \d+ due at all sites, about \d+ hours\.", page)
    assert "<script src" not in page
    being_made = "data-being-made" in without_script(page)  # which its script fetches
    assert page.count("<script") == being_made
    more = int(re.search(r">(\d+) more</a>", page).group(1))
    everything = then_of(opened(server, "/today?all=1"))
    assert everything[:10] == rows
    assert len(everything) == len(set(everything)) == 10 + more


def test_a_site_and_a_line_come_from_the_address_and_are_chosen_next_time(server):
    page = opened(server, "/today?site=Stone+shed&line=stock+line")
    first = next_of(page)
    again = opened(server, walk="site=Stone+shed&line=stock+line")
    assert next_of(again) == first
    assert "Units on stock line at Stone shed, in walking order" in again
    nowhere = opened(server, "/today?site=no+such+site")
    assert "nothing due at no such site" in nowhere


def test_what_i_began_stands_first_with_how_far_it_is_and_not_what_others_began(server):
    unit = next_of(opened(server))
    draft_id = server.begin(unit)
    server.answer_visit(draft_id, guard="fitted")
    server.give(draft_id, "machine_state", "running")
    mine = opened(server)
    assert f'href="/walkdown/{draft_id}">Go on' in mine
    assert re.search(r"Begun: 1\s+of\s+\d+ answered, saved \d\d:\d\d", mine)
    assert "1 begun, " in mine
    assert next_of(mine) != unit
    theirs = opened(server, person="Cleo Roth")
    assert f'/walkdown/{draft_id}"' not in theirs
    assert "Ben Meier has begun a walkdown of it." in theirs
    server.submit(draft_id)


def test_signing_names_the_next_unit_of_the_walk_and_the_signed_one_is_gone(server):
    page = opened(server)
    unit, after = next_of(page), then_of(page)[0]
    draft_id = server.begin(unit)
    server.answer_visit(draft_id)
    done = server.submit(draft_id)
    assert done.said["next"]["unit_id"] == after
    assert done.said["next"]["address"] == f"/walkdown/new?unit={after}"
    assert done.said["next"]["why"]
    again = opened(server)
    assert next_of(again) == after
    assert unit not in then_of(again)


def test_what_others_signed_since_is_told_once_one_was_away(server):
    assert "The first visit on this device" in opened(server, person="Dora Finn")
    unit = next_of(opened(server))
    draft_id = server.begin(unit)
    server.answer_visit(draft_id, guard="missing")
    server.submit(draft_id)
    long_ago = opened(server, person="Dora Finn", here=" 2026-01-01T08:00:00+00:00")
    assert re.search(rf"<strong>{unit}</strong> <span>[^<]*must not run", long_ago)
    assert "Ben Meier" in long_ago
    own = opened(server, person="Ben Meier", here=" 2026-01-01T08:00:00+00:00")
    assert "Nobody else has signed anything since" in own
    told = opened(server, "/today?since=2026-01-01T08:00:00%2B00:00", person="Dora Finn")
    assert f"<strong>{unit}</strong>" in told
    for odd in ("0001-01-01", "yesterday", "9999-12-31T23:59:59"):
        opened(server, f"/today?since={odd}", here=f"{odd} {odd}")


def test_who_is_asked_comes_back_to_today(server):
    page = server.ask("GET", "/today", headers={"Cookie": ""})
    assert "Who holds this device?" in page.text
    answer = server.post_form("/walkdown/who", {"to": "today", "by": "Ben Meier"})
    assert (answer.code, answer.headers["location"]) == (303, "/today")


def test_over_files_what_is_due_is_shown_and_nothing_can_be_begun(over_files):
    page = opened(over_files)
    assert "Nothing can be entered: these pages show files" in page
    assert next_of(page)
    assert "Begin" not in page
    assert "/walkdown/new" not in without_script(page)
    assert page.count('class="row"') == 10
