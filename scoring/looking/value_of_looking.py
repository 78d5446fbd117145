"""What seeing checks is worth: re-work chosen with what is seen, against re-work chosen without."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.contract.mountings import EVERY_MOUNTING
from scoring.looking.assessed_fleet import AssessedFleet
from scoring.looking.losses import losses_of_rows
from scoring.timeline.resets import BEARING_SYMPTOMS
from scoring.what_if.action_arrays import ACTION_NAMES, CHECK_NAMES, CURES, FITS, NEW_BEARING

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

MOST_CHECKS_OF_A_QUESTION = 3
"""Checks of one question; outcomes multiply. Ours."""

_BITS: Ints = 1 << np.arange(len(ACTION_NAMES), dtype=np.int64)


def each_by_itself(outcomes: pd.DataFrame) -> pd.DataFrame:
    """Return the questions what each look is worth by itself.

    Parameters
    ----------
    outcomes : DataFrame
        From ``what_looks_may_find``.

    Returns
    -------
    DataFrame, shape (n_looks, 4)
        ``question``, ``unit``, ``check``, ``seen`` (True).
    """
    looks = outcomes[["unit", "check"]].drop_duplicates(ignore_index=True)
    return looks.assign(question=np.arange(len(looks)), seen=True)


def value_of_looking(
    assessed_fleet: AssessedFleet, outcomes: pd.DataFrame, questions: pd.DataFrame
) -> pd.DataFrame:
    """Work out what seeing checks is worth.

    Parameters
    ----------
    assessed_fleet : AssessedFleet
        How the fleet stands.
    outcomes : DataFrame
        What looks may find, from ``what_looks_may_find``; looks at one unit find what they find
        independently of each other.
    questions : DataFrame
        ``question`` (a number), ``unit``, ``check``, ``seen``: one row for each check of a
        question, at most three. Where ``seen`` is False the check is not looked at, but re-work
        of it is open to choice.

    Returns
    -------
    DataFrame, shape (n_questions, 4)
        ``question``; ``value`` of looking, never below 0; ``saved_by_looking`` and
        ``saved_without``: what the best re-work saves, less its cost, chosen with what is seen and
        without. [currency]

    Raises
    ------
    ValueError
        If a question asks for too many checks.

    Notes
    -----
    For each check of a question one of the actions that cure it may be chosen, or none; what is
    chosen at several checks is done together. With ``s`` the loss that re-work avoids within the
    horizon less its cost of labour and parts:

    value = sum over what is seen of max over re-work of E[s | seen] - max over re-work of E[s].

    It is 0 where nothing that may be found would change the choice (expected value of
    information, textbook). Every loss comes from the code that ranks, as what-if has it, with the
    outcome on record as found. All other re-work of the unit is left out of account.
    """
    turn = questions.groupby("question").cumcount()
    if len(turn) and int(turn.max()) >= MOST_CHECKS_OF_A_QUESTION:
        raise ValueError(f"a question has at most {MOST_CHECKS_OF_A_QUESTION} checks")
    numbered = outcomes.reset_index(drop=True).reset_index(names="at")
    asked = [part.reset_index(drop=True) for _, part in questions.groupby(turn)]
    scenes, menu = _scenes(asked, numbered), _menu(asked, assessed_fleet)
    rows = scenes.reset_index(names="scene").merge(menu, on="question")
    rows["saved"] = _saved(assessed_fleet, numbered, scenes, rows) * rows["chance"]
    informed = rows.groupby(["question", "cell", "mask"], sort=False)["saved"].sum()
    blind = rows.groupby(["question", "mask"], sort=False)["saved"].sum()
    best = informed.groupby(level=["question", "cell"]).max().groupby(level="question").sum()
    without = blind.groupby(level="question").max()
    table = pd.DataFrame({"saved_by_looking": best, "saved_without": without})
    table = table.reindex(np.unique(questions["question"]), fill_value=0.0)
    table["value"] = np.maximum(table["saved_by_looking"] - table["saved_without"], 0.0)
    return table.rename_axis("question").reset_index()


def _scenes(asked: list[pd.DataFrame], outcomes: pd.DataFrame) -> pd.DataFrame:
    """Return every combination of outcomes: its chance, and what of it is seen as one number."""
    if not asked:
        return pd.DataFrame({"question": [], "unit": [], "chance": [], "cell": []}, dtype=np.int64)
    scenes = asked[0][["question", "unit"]].assign(chance=1.0, cell=0)
    for place, part in enumerate(asked):
        found = part.merge(outcomes, on=["unit", "check"])
        found["shows"] = np.where(found["seen"], found["outcome"] + 1, 0)
        found = found[["question", "at", "shows", "chance"]]
        scenes = scenes.merge(found, on="question", how="left", suffixes=("", "_of_look"))
        scenes["chance"] *= scenes.pop("chance_of_look").fillna(1.0)
        scenes["cell"] = scenes["cell"] * 64 + scenes.pop("shows").fillna(0).astype(np.int64)
        scenes[f"look_{place}"] = scenes.pop("at").fillna(-1).astype(np.int64)
    return scenes


def _menu(asked: list[pd.DataFrame], assessed_fleet: AssessedFleet) -> pd.DataFrame:
    """Return the re-work that is open to choice in each question, as numbers of sets."""
    options = _options()
    mounting = assessed_fleet.assessment.known.units["mounting"].cat.codes.to_numpy()
    menu = pd.DataFrame({"question": [], "mask": []}, dtype=np.int64)
    for place, part in enumerate(asked):
        of_units = part.assign(mounting=mounting[part["unit"]].astype(np.int64))
        more = of_units.merge(options, on=["check", "mounting"])[["question", "option"]]
        if place == 0:
            menu = more.rename(columns={"option": "mask"})
        else:
            menu = menu.merge(more, on="question", how="left")
            menu["mask"] |= menu.pop("option").fillna(0).astype(np.int64)
    return menu.drop_duplicates(ignore_index=True)


def _options() -> pd.DataFrame:
    """Return nothing, and each action that cures a check, or renews what a symptom speaks of."""
    rows = []
    for place, check in enumerate(CHECK_NAMES):
        cures = NEW_BEARING if check in BEARING_SYMPTOMS else CURES[:, place]
        for mounting in range(len(EVERY_MOUNTING)):
            masks = [0, *_BITS[cures & FITS[mounting]].tolist()]
            rows += [{"check": check, "mounting": mounting, "option": mask} for mask in masks]
    return pd.DataFrame(rows)


def _saved(
    assessed_fleet: AssessedFleet, outcomes: pd.DataFrame, scenes: pd.DataFrame, rows: pd.DataFrame
) -> Floats:
    """Return what re-work saves in each scene against doing nothing, less its cost."""
    unit, scene = rows["unit"].to_numpy(np.int64), rows["scene"].to_numpy(np.int64)
    actions = (rows["mask"].to_numpy(np.int64)[:, np.newaxis] & _BITS) > 0
    looks = [name for name in scenes if str(name).startswith("look_")]
    found = scenes[looks].to_numpy(np.int64)[scene]
    loss, cost = losses_of_rows(assessed_fleet, unit, actions, outcomes, found)
    nothing = np.zeros(len(scenes))
    idle = ~actions.any(axis=1)
    nothing[scene[idle]] = loss[idle]
    saved: Floats = nothing[scene] - loss - cost
    return saved
