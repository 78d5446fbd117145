"""Fleets and plans whose work orders are printed: four mountings, sixty jobs, hostile names."""

import pandas as pd

import scoring
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.records import TEXT
from scoring.sheets.work_to_order import work_of_kept_jobs

AS_OF = "2026-06-30"
LONG = "conveyor of the north drift behind the old crusher " * 4
HOSTILE = '#import "x" <script>alert(1)</script> $x^2$ *not bold* \\ {{ 7 * 7 }} __'
NAMES = ("stone shed", LONG[:200], HOSTILE, "Süd 1 ≤ № “q”")

WORK = {
    "keyed_bore": "renew_key;realign_arm;change_oil",
    "tapered_bushing": "retorque_in_passes;reset_collar_gap;replace_isolators",
    "shrink_disc": "retorque_in_passes;clean_and_refit;fit_guard",
    "shrink_disc_support_bushings": "retorque_in_passes;renew_support_bushings;clean_and_refit",
}
"""What is done at the units of each mounting."""


def a_stand(n_units, *, torque=True):
    """Judge a fleet whose units are found with something at joint and arm, each."""
    mounting = [EVERY_MOUNTING[n % 4] for n in range(n_units)]
    ids = [f"U-{n:03d}" for n in range(n_units)]
    ids[: len(WILD_IDS)] = WILD_IDS[:n_units]
    units = pd.DataFrame(
        {
            "unit_id": ids,
            "site": [NAMES[n % 2] for n in range(n_units)],
            "line": [NAMES[n % 4] for n in range(n_units)],
            "driven_equipment": [NAMES[(n + 1) % 4] for n in range(n_units)],
            "installed_on": "2026-01-31",
            "mounting": mounting,
            "shaft_diameter_mm": 80,
            "unit_mass_kg": [None if n % 2 else 410 for n in range(n_units)],
            "screw_count": [None if one == "keyed_bore" else 8 for one in mounting],
            "screw_torque_nm": [90 if torque and one != "keyed_bore" else None for one in mounting],
        }
    )
    walkdowns = pd.DataFrame(
        {
            "walkdown_id": [f"W-{n}" for n in range(n_units)],
            "unit_id": ids,
            "inspected_on": "2026-03-02",
            "kind": "post_install",
            "isolators_free": 0,
            "metal_contact": ["yes" if n % 7 == 0 else "no" for n in range(n_units)],
            "smallest_clearance_mm": [1 if n % 3 == 0 else 30 for n in range(n_units)],
            "shaft_runout_mm": 0.9,
            "oil_level": "right",
            "guard": ["missing" if n % 5 == 0 else "fitted" for n in range(n_units)],
            "torque_passes": [None if one == "keyed_bore" else 1 for one in mounting],
            "notes": HOSTILE,
        }
    )
    return scoring.assess(scoring.take(units, walkdowns), as_of=AS_OF).stands


WILD_IDS = ("A<b>1</b>", "#set-2/ü", "N=1&2 {x}", 'CH "3" $a$')
"""Ids as people give them."""


def jobs_at(stands, windows=("shutdown",), starts_on=None):
    """Return a job at every unit, as a kept plan has them; the windows take turns."""
    units = stands.assessment.known.units
    verdict = stands.assessment.ranking.set_index("unit_id")["verdict"].astype(object)
    ids = units["unit_id"].to_numpy(object)
    jobs = pd.DataFrame(
        {
            "order": range(1, len(units) + 1),
            "window": [windows[n % len(windows)] for n in range(len(units))],
            "starts_on": pd.to_datetime([starts_on] * len(units)).astype("datetime64[us]"),
            "unit_id": ids,
            "site": units["site"].to_numpy(object),
            "line": units["line"].to_numpy(object),
            "verdict": verdict.loc[ids].to_numpy(),
            "verdict_after": "watch",
            "actions": [WORK[one] for one in units["mounting"]],
            "loss_avoided": 1234.0,
            "currency": "EUR",
        }
    )
    jobs["hours"] = 0.0
    texts = ("window", "unit_id", "site", "line", "verdict", "verdict_after", "actions", "currency")
    for name in texts:
        jobs[name] = jobs[name].astype(TEXT)
    return jobs.sort_values("window", kind="stable").reset_index(drop=True)


def work_at(stands, **chosen):
    """Return the work order of a job at every unit."""
    jobs = jobs_at(stands, **chosen)
    first = work_of_kept_jobs(jobs.assign(hours=1.0), stands.assessment, stands.efforts)
    takes = stands.efforts.work(jobs["site"], first.actions, first.parts)
    return work_of_kept_jobs(
        jobs.assign(hours=takes["hours"].to_numpy()), stands.assessment, stands.efforts
    )
