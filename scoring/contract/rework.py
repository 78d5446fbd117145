"""The table ``rework``: one row, one visit that changed something; and what actions cure."""

from dataclasses import dataclass

from scoring.contract.declaration import Column, Kind, Table

BEARING = "bearing"
SEAL = "seal"


@dataclass(frozen=True, kw_only=True)
class Action:
    """One re-work action.

    Attributes
    ----------
    name : str
        As written in the column ``actions``.
    does : str
        What is done, in plain words, as an instruction.
    cures : tuple of str
        Checks that are reported cured.
    brings : tuple of str
        Actions that always come with it.
    renews : tuple of str
        Parts that are new afterwards.
    off_shaft : bool
        Whether the unit comes off the shaft and is hung anew.
    """

    name: str
    does: str
    cures: tuple[str, ...] = ()
    brings: tuple[str, ...] = ()
    renews: tuple[str, ...] = ()
    off_shaft: bool = False


_ISOLATORS = ("isolators_free", "isolator_squeeze_mm")
_ENGAGEMENT = ("seated", "engagement_mm", "shaft_end", "support_bushings")
_RETORQUE = ("retorque_in_passes",)

ACTIONS: tuple[Action, ...] = (
    Action(
        name="back_off_isolators",
        does="back off the anchor nut until one isolator turns by hand",
        cures=_ISOLATORS,
    ),
    Action(
        name="replace_isolators",
        does="fit new isolators and washers, clamped so that one turns by hand",
        cures=(*_ISOLATORS, "isolator_stack"),
    ),
    Action(
        name="restore_isolation",
        does="rebuild the anchor joint so that no metal touches metal",
        cures=("metal_contact", "isolator_stack"),
    ),
    Action(
        name="restore_clearance",
        does="clear what housing or motor can touch in a full turn",
        cures=("metal_contact", "smallest_clearance_mm"),
    ),
    Action(
        name="realign_arm",
        does="bring arm and anchor into one plane and the arm square to its link",
        cures=("arm_misset_mm", "arm_angle_deg"),
    ),
    Action(
        name="tighten_arm_bolts",
        does="fit and tighten the bolts of the torque arm",
        cures=("arm_bolts",),
    ),
    Action(
        name="reseat_on_shaft",
        does="take the unit off and push it fully home",
        cures=_ENGAGEMENT,
        off_shaft=True,
    ),
    Action(
        name="renew_support_bushings",
        does="take the unit off and fit both support bushings",
        cures=_ENGAGEMENT,
        off_shaft=True,
    ),
    Action(
        name="clean_and_refit",
        does="take the unit off, wipe bore, shaft and clamp seat clean and dry, hang it again",
        cures=("bore_condition", "clamp_seat_condition"),
        brings=_RETORQUE,
        off_shaft=True,
    ),
    Action(
        name="retorque_in_passes",
        does="bring the screws to the manual's torque in rising passes, in the right order",
        cures=("torque_passes", "tightening_order", "final_torque_nm", "screws_low"),
    ),
    Action(
        name="reset_collar_gap",
        does="set the gap between bushing flange and thrust collar",
        cures=("collar_gap_mm",),
        brings=_RETORQUE,
    ),
    Action(
        name="recentre_disc",
        does="centre the disc on its hub extension",
        cures=("disc_offset_mm",),
        brings=_RETORQUE,
    ),
    Action(name="true_shaft", does="true the shaft at the unit", cures=("shaft_runout_mm",)),
    Action(
        name="renew_shaft",
        does="take the unit off and fit a shaft of the right length and size",
        cures=("shaft_runout_mm", "engagement_mm", "shaft_end", "shaft_diameter_measured_mm"),
        off_shaft=True,
    ),
    Action(
        name="renew_key",
        does="take the unit off and fit the right key in both keyways",
        cures=("key_condition",),
        off_shaft=True,
    ),
    Action(
        name="tighten_retention",
        does="fit and tighten the axial collar or retaining screw",
        cures=("retention",),
    ),
    Action(name="open_breather", does="clean or fit the breather", cures=("breather",)),
    Action(name="correct_oil_level", does="bring the oil to its level mark", cures=("oil_level",)),
    Action(name="fit_guard", does="fit the guard", cures=("guard",)),
    Action(name="renew_seal", does="fit a new output seal", cures=("seal_weep",), renews=(SEAL,)),
    Action(
        name="renew_bearing",
        does="take the unit off and fit new low-speed bearings and output seal",
        cures=("seal_weep",),
        renews=(BEARING, SEAL),
        off_shaft=True,
    ),
)

ACTION_BY_NAME: dict[str, Action] = {action.name: action for action in ACTIONS}


def with_brought(name: str) -> tuple[Action, ...]:
    """Return an action and those that always come with it.

    Examples
    --------
    >>> [action.name for action in with_brought("recentre_disc")]
    ['recentre_disc', 'retorque_in_passes']
    """
    action = ACTION_BY_NAME[name]
    return (action, *(ACTION_BY_NAME[brought] for brought in action.brings))


REWORK = Table(
    "rework",
    "one visit that changed something",
    "rework_id",
    (
        Column(name="rework_id", kind=Kind.IDENTIFIER, meaning="the key", required=True),
        Column(name="unit_id", kind=Kind.IDENTIFIER, meaning="the unit worked on", required=True),
        Column(name="done_on", kind=Kind.DATE, meaning="when it was done", required=True),
        Column(
            name="actions",
            kind=Kind.SEVERAL,
            allowed=tuple(ACTION_BY_NAME),
            required=True,
            meaning="what was done",
        ),
        Column(name="recorded_at", kind=Kind.DATE, meaning="when this was written down"),
        Column(name="event_id", kind=Kind.IDENTIFIER, meaning="the failure it repaired"),
        Column(name="crew", kind=Kind.TEXT, meaning="crew that did it"),
        Column(name="hours", kind=Kind.NUMBER, unit="h", minimum=0, meaning="hours on the job"),
        Column(name="crew_size", kind=Kind.COUNT, minimum=1, meaning="people on the job"),
        Column(name="notes", kind=Kind.TEXT, meaning="anything else"),
    ),
)
