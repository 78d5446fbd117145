"""A plain reading of the records, independent of the generator and of the scorer."""

import numpy as np
import pandas as pd

from demo_data.fleet import Fleet
from scoring.contract import CHECKS
from scoring.contract.mountings import CLAMPED, TAPERED_BUSHING
from scoring.contract.rework import ACTION_BY_NAME, with_brought

CAUSES = [check.name for check in CHECKS if not check.symptom]
WORDS_HOLD = {
    "support_bushings": ["missing"],
    "key_condition": ["missing"],
    "retention": ["missing"],
    "arm_bolts": ["missing"],
    "isolator_stack": ["isolator_missing"],
    "metal_contact": ["yes"],
    "oil_level": ["low"],
    "backstop_direction": ["wrong"],
    "guard": ["missing"],
}
WORDS_HOLD_CLAMPED = {
    "bore_condition": ["oil_film", "antiseize_or_grease"],
    "clamp_seat_condition": ["oil_film", "antiseize_or_grease"],
    "shaft_end": ["short"],
}
FIRST_WORDS_GOOD = [
    "bore_condition",
    "clamp_seat_condition",
    "seated",
    "support_bushings",
    "shaft_end",
    "key_condition",
    "retention",
    "arm_bolts",
    "isolator_stack",
    "metal_contact",
    "breather",
    "oil_level",
    "guard",
    "witness_mark",
    "shaft_seat",
    "screws_rechecked",
    "mounting_position",
    "oil_condition",
    "seal_lip",
    "backstop_direction",
]


def newest(fleet: Fleet) -> pd.DataFrame:
    """Newest value of every check that still counts, by unit."""
    walkdowns = fleet.walkdowns
    looks = walkdowns.melt(
        id_vars=["unit_id", "walkdown_id", "inspected_on", "kind"],
        value_vars=CAUSES,
        var_name="check",
    ).dropna(subset="value")
    looks["day"] = looks["inspected_on"].str[:10]
    looks["turn"] = np.where(looks["kind"] == "after_rework", 3, 1)

    rework = fleet.rework.assign(action=fleet.rework["actions"].str.split(";")).explode("action")
    cures = pd.DataFrame(
        [(a.name, c) for a in ACTION_BY_NAME.values() for c in a.cures],
        columns=["action", "check"],
    )
    off = [a.name for a in ACTION_BY_NAME.values() if a.off_shaft]
    cured = rework.merge(cures, on="action")[["unit_id", "done_on", "check"]]
    on_shaft = (rework["action"] == "renew_seal") & (rework["seal_side"] == "outboard")
    hung = rework.loc[rework["action"].isin(off) & ~on_shaft, ["unit_id", "done_on"]]
    bearings = fleet.events.loc[fleet.events["mode"] == "low_speed_bearing"]
    hung = pd.concat([hung, bearings.rename(columns={"occurred_on": "done_on"})[hung.columns]])
    leaks = fleet.events.loc[fleet.events["mode"] == "seal_leak"]
    lips = leaks.rename(columns={"occurred_on": "done_on"})[hung.columns].assign(check="seal_lip")
    resets = pd.concat([cured, lips, hung.merge(pd.DataFrame({"check": CAUSES}), how="cross")])
    resets = resets.rename(columns={"done_on": "day"}).assign(turn=2, value=None, walkdown_id="")

    columns = ["unit_id", "check", "day", "turn", "walkdown_id", "value"]
    everything = pd.concat([looks[columns], resets[columns].astype(looks[columns].dtypes)])
    everything = everything.sort_values(["day", "turn", "walkdown_id"])
    last = everything.groupby(["unit_id", "check"], sort=False).tail(1)
    table = last.pivot_table(index="unit_id", columns="check", values="value", aggfunc="first")
    return table.reindex(index=fleet.units["unit_id"], columns=CAUSES)


def findings(fleet: Fleet) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Whether each check is an open hold, and any open finding, of units in service."""
    units = fleet.units.set_index("unit_id")
    units = units[units["out_of_service_on"].isna()]
    now = newest(fleet).loc[units.index]
    clamped = units["mounting"].isin(CLAMPED)
    tapered = units["mounting"] == TAPERED_BUSHING
    number = {c.name: pd.to_numeric(now[c.name]) for c in CHECKS if c.name in now and c.is_numeric}

    hold = pd.DataFrame(data=False, index=now.index, columns=CAUSES)
    for check, words in WORDS_HOLD.items():
        hold[check] = now[check].isin(words)
    for check, words in WORDS_HOLD_CLAMPED.items():
        hold[check] = now[check].isin(words) & clamped
    short = number["engagement_mm"] < units["required_engagement_mm"]
    diameters = (
        units["mounting"].map({"keyed_bore": 1, "tapered_bushing": 1.2}).fillna(1.5).astype(float)
    )
    not_stated = units["required_engagement_mm"].isna()
    little = not_stated & (number["engagement_mm"] < diameters * units["shaft_diameter_mm"])
    hold["engagement_mm"] = short & clamped
    ratio = number["final_torque_nm"] / units["screw_torque_nm"]
    hold["torque_passes"] = number["torque_passes"] == 0
    a_quarter = number["screws_low"] >= units["screw_count"].fillna(8) / 4
    hold["screws_low"] = a_quarter & ~(ratio >= 0.8)
    hold["screws_missing"] = number["screws_missing"] >= 1
    hold["smallest_clearance_mm"] = number["smallest_clearance_mm"] == 0

    found = hold.copy()
    first = {c.name: c.allowed[0] for c in CHECKS if c.name in FIRST_WORDS_GOOD}
    for check, good in first.items():
        found[check] |= now[check].notna() & (now[check] != good)
    found["engagement_mm"] |= short | little
    right = np.where(tapered, "star", "circular")
    found["tightening_order"] = now["tightening_order"].notna() & (now["tightening_order"] != right)
    found["torque_passes"] |= number["torque_passes"] < units["torque_passes_required"].fillna(3)
    found["final_torque_nm"] = (ratio < 0.95) | (ratio > 1.05)
    found["screws_low"] = number["screws_low"] >= 1
    gap = number["collar_gap_mm"]
    found["collar_gap_mm"] = (gap < units["collar_gap_min_mm"].fillna(1)) | (
        gap > units["collar_gap_max_mm"].fillna(2)
    )
    found["disc_offset_mm"] = number["disc_offset_mm"] > 2
    found["shaft_runout_mm"] = number["shaft_runout_mm"] > 0.25
    found["arm_misset_mm"] = number["arm_misset_mm"] > 1
    found["arm_angle_deg"] = number["arm_angle_deg"] < 75
    found["smallest_clearance_mm"] |= number["smallest_clearance_mm"] < 3
    found["isolators_free"] = number["isolators_free"] == 0
    rubber = units["isolator_thickness_mm"].fillna(25)
    found["isolator_squeeze_mm"] = number["isolator_squeeze_mm"] > 0.15 * rubber
    diameter = number["shaft_diameter_measured_mm"]
    found["shaft_diameter_measured_mm"] = (diameter < units["shaft_low_mm"]) | (
        diameter > units["shaft_high_mm"]
    )
    return hold, found


def brought_by(action: str) -> list[str]:
    """Names of an action and what comes with it."""
    return [a.name for a in with_brought(action)]


def concordance(score: np.ndarray, truth: np.ndarray) -> float:
    """Share of pairs, ties in truth apart, that the score puts in the true order."""
    order = np.argsort(truth, kind="stable")
    score, truth = np.asarray(score)[order], np.asarray(truth)[order]
    if len(truth) > 3000:
        step = len(truth) // 3000 + 1
        score, truth = score[::step], truth[::step]
    above = truth[None, :] > truth[:, None]
    right = (score[None, :] > score[:, None]) + 0.5 * (score[None, :] == score[:, None])
    return float(right[above].mean())
