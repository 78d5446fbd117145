"""Each way in which something is written: commands, routes of the form, what the pages keep."""

import io
import json
import os
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace

import pandas as pd
from at_the_machine import UNIT, answer_visit, begin, today
from PIL import Image
from routes_in_process import API, Routes

from dashboard import kept_by_name, kept_in_store
from scoring.cli.main import cli
from scoring.contract.version import CONTRACT_VERSION
from scoring.entering.drafts import find_draft
from scoring.entering.photos import encode_photo, keep_photo
from scoring.files.route_reading import WRITTEN_BY
from scoring.store.schema import RECORDS

BY = "Ben Meier"


@dataclass(frozen=True)
class Asked:
    """Of which store, in which folder, knowing what of the store."""

    url: str
    place: str
    known: dict[str, str]


LINK = "/fix?verdict=hold"


def a_photo(colour="grey"):
    file = io.BytesIO()
    Image.new("RGB", (8, 6), colour).save(file, "JPEG")
    return file.getvalue()


def a_filled_form(unit_id):
    answers = (("kind", "periodic"), ("inspected_on", today()), ("inspector", "Cy Dow"))
    walkdown = {
        "walkdown_id": f"W-FORM-{unit_id}", "unit_id": unit_id, "finished": True,
        "answers": [
            {"field": name, "heading": name, "value": value, "reason": ""}
            for name, value in answers
        ],
        "photos": [], "signed_by": "Cy Dow", "signed_at": f"{today()}T00:00:01",
        "told": "the shift", "recorded_at": f"{today()}T00:00:00",
    }  # fmt: skip
    content = {
        "written_by": WRITTEN_BY, "contract": CONTRACT_VERSION, "route": "north",
        "saved_at": f"{today()}T00:00:02", "walkdowns": [walkdown],
    }  # fmt: skip
    return json.dumps(content).encode()


def two_jobs():
    job = {
        "order": 1, "window": "July", "starts_on": pd.NaT, "unit_id": UNIT, "line": None,
        "site": "North", "verdict": "hold", "verdict_after": "watch", "actions": "fit_guard",
        "hours": 2.5, "loss_avoided": 0.1, "currency": "EUR",
    }  # fmt: skip
    return pd.DataFrame([job, {**job, "order": 2, "starts_on": pd.Timestamp("2026-07-01")}])


def make_ready(store, free_unit):
    """Put there what the operations go on from; return what they must know of it."""
    draft_id = begin(store)
    answer_visit(store, draft_id)
    with store.reading() as connection:
        draft = find_draft(connection, draft_id)
    with store.writing(BY) as writing:
        photo_id = keep_photo(
            writing, draft.walkdown_id, "guard", encode_photo(a_photo()),
            draft_id=draft_id, unit_id=UNIT,
        )  # fmt: skip
    given = SimpleNamespace(as_of=pd.Timestamp("2026-06-30"), horizon_days=180)
    os.environ["MOUNT_RISK_FLEET"] = store.url.render_as_string(hide_password=False)
    plan = kept_by_name.keep_plan(BY, "June", two_jobs(), given, LINK)
    view = kept_by_name.keep_view(BY, "holds", "fix", LINK)
    with store.reading() as connection:
        walkdowns = RECORDS["walkdowns"]
        signed = connection.execute(walkdowns.select().where(~walkdowns.c.withdrawn)).first()
    return {
        "draft": draft_id, "photo": photo_id, "plan": plan.plan_id, "view": view.view_id,
        "unit": free_unit, "walkdown": signed.walkdown_id,
    }  # fmt: skip


def _command(*words):
    def run(asked):
        given = [str(word(asked)) if callable(word) else word for word in words]
        cli(given, standalone_mode=False)

    return run


def _url(asked):
    return asked.url


def _in(name):
    return lambda asked: Path(asked.place) / name


def _route(method, path, body=b"", **headers):
    def run(asked):
        sent = body(asked.known) if callable(body) else body
        answer = Routes().ask(method, path.format(**asked.known), sent, **headers)
        if answer.code not in (200, 303):
            raise AssertionError(answer.text)

    return run


def _form(path, **fields):
    def run(asked):
        filled = {name: value.format(**asked.known) for name, value in fields.items()}
        answer = Routes().post_form(path, **filled)
        if answer.code not in (200, 303):
            raise AssertionError(answer.text)

    return run


def _answer(asked):
    answer = Routes().give(asked.known["draft"], "notes", "Müller’s „Brecher“")
    if answer.code != 200:
        raise AssertionError(answer.text)


def _keep_plan(_):
    given = SimpleNamespace(as_of=pd.Timestamp("2026-06-30"), horizon_days=180)
    kept_by_name.keep_plan(BY, "July", two_jobs(), given, LINK)


def _take_back(asked):
    kept_in_store.take_back("route.json", a_filled_form(asked.known["unit"]), BY)


_SIGNATURE = json.dumps({"signed_by": BY, "told": "Foreman", "reason": ""}).encode()
_STORE = ("--store", _url)

INTO_A_FILLED_STORE = {
    "load of changed records": _command("load", _in("changed"), *_STORE, "--by", BY),
    "forget": _command("forget", BY, *_STORE, "--by", "Dora Hain", "--reason", "asked"),
    "begin a walkdown": _form("/walkdown/new", unit="{unit}", by=BY),
    "begin a correction": _form("/walkdown/new", correct="{walkdown}", by=BY),
    "answer": _answer,
    "photo": _route("POST", API + "/{draft}/photos/guard?by=Ben%20Meier", a_photo("red")),
    "photo taken out": _route("DELETE", API + "/{draft}/photos/{photo}?by=Ben%20Meier"),
    "signature": _route("POST", API + "/{draft}/submit", _SIGNATURE),
    "give a walkdown up": _form("/walkdown/give-up", draft="{draft}", by=BY),
    "re-work": _form(
        "/enter/rework", unit="{unit}", key="R-1", by=BY, done_on=today(), actions="open_breather"
    ),
    "failure": _form(
        "/enter/events", unit="{unit}", key="E-1", by=BY, occurred_on=today(), mode="seal_leak"
    ),
    "release to start": _form("/enter/release", unit="{unit}", by=BY, reason="guard fitted"),
    "keep a plan": _keep_plan,
    "withdraw a plan": lambda asked: kept_by_name.withdraw_plan(BY, asked.known["plan"]),
    "keep a view": lambda _: kept_by_name.keep_view(BY, "new", "fix", LINK),
    "remove a view": lambda asked: kept_by_name.remove_view(BY, asked.known["view"]),
    "take a filled form back": _take_back,
}
"""In one transaction each: before it, or after it, and nothing between."""

INTO_NOTHING = {
    "first load": _command("load", _in("records"), *_STORE, "--by", BY),
    "restore": _command("restore", _in("kept.zip"), *_STORE),
}

TO_A_NEWER_SCHEMA = {"migrate": _command("migrate", *_STORE)}

INTO_FILES = {
    "export": (_command("export", *_STORE, "--out", _in("out")), "out"),
    "export as a workbook": (_command("export", *_STORE, "--out", _in("out.xlsx")), "out.xlsx"),
    "backup": (_command("backup", *_STORE, "--out", _in("out.zip")), "out.zip"),
    "verify": (_command("verify", _url, "--head-out", _in("head.json")), "head.json"),
    "template": (_command("template", _in("out")), "out"),
    "form without a network": (
        _command("offline", _url, "--unit", UNIT, "--out", _in("out.html")), "out.html"
    ),
    "ranking": (
        _command("rank", _url, "--handbook-only", "--out", _in("out.csv")), "out.csv"
    ),
    "sheet": (
        _command("sheet", "label", _url, "--out", _in("out.html")), "out.html"
    ),
}  # fmt: skip
"""With the name of what they leave."""

ALL = {
    **INTO_A_FILLED_STORE, **INTO_NOTHING, **TO_A_NEWER_SCHEMA,
    **{name: run for name, (run, _) in INTO_FILES.items()},
}  # fmt: skip
