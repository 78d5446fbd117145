"""The table ``units``: one row, one reducer on one shaft."""

from scoring.contract.declaration import YES_NO, Column, Kind, Table
from scoring.contract.mountings import EVERY_MOUNTING

SHAFT_TOLERANCES = ("h6", "h7", "h8", "h9", "h10", "h11", "k6", "m6")


def _identifier(name: str, meaning: str, *, required: bool = False) -> Column:
    return Column(name=name, kind=Kind.IDENTIFIER, meaning=meaning, required=required)


def _text(name: str, meaning: str) -> Column:
    return Column(name=name, kind=Kind.TEXT, meaning=meaning)


def _date(name: str, meaning: str, *, required: bool = False) -> Column:
    return Column(name=name, kind=Kind.DATE, meaning=meaning, required=required)


def _from(  # noqa: PLR0913 - a number has this many parts
    low: float, high: float, name: str, unit: str, meaning: str, *, required: bool = False
) -> Column:
    """Declare a number with what a reducer can have at all: planning values of ours, wide."""
    return Column(
        name=name,
        kind=Kind.NUMBER,
        unit=unit,
        meaning=meaning,
        minimum=low,
        maximum=high,
        required=required,
    )


def _choice(name: str, allowed: tuple[str, ...], meaning: str, *, required: bool = False) -> Column:
    return Column(name=name, kind=Kind.CHOICE, allowed=allowed, meaning=meaning, required=required)


UNITS = Table(
    "units",
    "one reducer on one shaft",
    "unit_id",
    (
        _identifier("unit_id", "the key; also on the unit's label", required=True),
        _identifier("asset_id", "follows one reducer from shaft to shaft"),
        Column(
            name="site",
            kind=Kind.TEXT,
            meaning="plant or part of a plant it stands in",
            required=True,
        ),
        _text("line", "conveyor line"),
        _text("driven_equipment", "what it drives"),
        _text("installer", "crew that hung it"),
        _date("installed_on", "hung on the shaft", required=True),
        _date("started_on", "first run; blank: as installed_on, assumed"),
        _date("out_of_service_on", "end of service on this shaft"),
        _date(
            "failures_recorded_from",
            "since when failures of this unit are written down; blank: since started_on",
        ),
        _date(
            "slips_recorded_from",
            "since when slips of this unit are written down; blank: slips are not learned",
        ),
        _choice("mounting", EVERY_MOUNTING, "how it holds the shaft", required=True),
        _from(
            5,
            2000,
            "shaft_diameter_mm",
            "mm",
            "nominal diameter of the driven shaft",
            required=True,
        ),
        _from(
            1,
            5000,
            "required_engagement_mm",
            "mm",
            "engagement that the unit's own manual asks for",
        ),
        _choice("shaft_tolerance", SHAFT_TOLERANCES, "ISO 286 class of the shaft"),
        _from(5, 2000, "shaft_low_mm", "mm", "smallest allowed shaft, where no class is given"),
        _from(5, 2000, "shaft_high_mm", "mm", "largest allowed shaft, where no class is given"),
        _from(0.1, 10_000_000, "output_torque_nm", "N·m", "running torque at the low-speed shaft"),
        Column(
            name="peak_factor",
            kind=Kind.NUMBER,
            minimum=1,
            maximum=20,
            meaning="peak torque over running torque, start-up included",
        ),
        _from(0.01, 3000, "output_speed_rpm", "rpm", "speed of the low-speed shaft"),
        _from(0.01, 20_000, "motor_power_kw", "kW", "rated power of the motor"),
        Column(
            name="duty_h_per_day",
            kind=Kind.NUMBER,
            unit="h/day",
            minimum=0.01,
            maximum=24,
            meaning="running hours a day",
        ),
        _from(
            0.1,
            100_000_000,
            "joint_rated_torque_nm",
            "N·m",
            "torque the joint carries when mounted as specified, from the unit's own manual",
        ),
        _from(0.1, 200_000, "unit_mass_kg", "kg", "mass with motor"),
        _from(10, 20_000, "arm_length_mm", "mm", "shaft axis to the anchor of the torque arm"),
        _from(5, 5000, "bearing_span_mm", "mm", "distance between the low-speed bearings"),
        _from(
            0.1,
            10_000,
            "arm_offset_mm",
            "mm",
            "plane of the torque arm from the nearer low-speed bearing",
        ),
        _from(
            1,
            50_000,
            "shaft_support_distance_mm",
            "mm",
            "unit to the nearest bearing of the driven shaft",
        ),
        _from(
            5, 3000, "hub_outer_mm", "mm", "outside of the hub under the clamp; above the shaft's"
        ),
        _from(1, 5000, "clamp_length_mm", "mm", "length under the clamp"),
        _choice("bearing_kind", ("ball", "roller"), "kind of the low-speed bearings"),
        _from(
            1,
            100_000_000,
            "bearing_dynamic_rating_n",
            "N",
            "basic dynamic load rating C of one of them",
        ),
        _from(1, 2000, "isolator_outer_mm", "mm", "outside of the rubber bushing at the anchor"),
        _from(0.5, 2000, "isolator_inner_mm", "mm", "its hole"),
        _from(0.5, 1000, "isolator_thickness_mm", "mm", "its free thickness"),
        Column(
            name="isolator_hardness_shore_a",
            kind=Kind.NUMBER,
            unit="Shore A",
            minimum=1,
            maximum=100,
            meaning="its hardness",
        ),
        _text("screw_thread", "thread of the clamp screws, metric or unified, as M10 or 3/8-16"),
        Column(
            name="screw_count",
            kind=Kind.COUNT,
            minimum=1,
            maximum=200,
            meaning="number of clamp screws",
        ),
        _from(
            0.1, 100_000, "screw_torque_nm", "N·m", "final torque stated by the unit's own manual"
        ),
        Column(
            name="torque_passes_required",
            kind=Kind.COUNT,
            minimum=1,
            maximum=9,
            meaning="staged passes the manual asks for; blank: 3, assumed",
        ),
        _from(
            0,
            100,
            "collar_gap_min_mm",
            "mm",
            "smallest gap between bushing flange and thrust collar before tightening; "
            "blank: 1, common practice",
        ),
        _from(0, 100, "collar_gap_max_mm", "mm", "largest such gap; blank: 2, common practice"),
        _choice("backstop", YES_NO, "whether it has a backstop; blank: not known"),
        _from(0, 100_000, "starts_per_day", "1/day", "starts or reversals a day"),
        Column(
            name="walk_order",
            kind=Kind.COUNT,
            minimum=0,
            maximum=1_000_000_000,
            meaning="place in the walking order of its line",
        ),
        _choice("seal_material", ("nbr", "hnbr", "fkm"), "rubber of the output seal"),
        _choice("environment", ("dry_indoor", "dusty", "washdown", "outdoor"), "surroundings"),
        Column(
            name="ambient_c",
            kind=Kind.NUMBER,
            unit="°C",
            minimum=-60,
            maximum=80,
            meaning="usual temperature around the unit",
        ),
        _from(
            0,
            1_000_000_000,
            "downtime_cost_per_h",
            "currency/h",
            "what an hour of standstill costs",
        ),
        _from(
            0, 1_000_000_000_000, "bearing_repair_cost", "currency", "cost of a bearing replacement"
        ),
        _from(0, 100_000, "bearing_repair_h", "h", "standstill for a bearing replacement"),
        _from(0, 1_000_000_000_000, "leak_repair_cost", "currency", "cost of a seal replacement"),
        _from(0, 100_000, "leak_repair_h", "h", "standstill for a seal replacement"),
        _from(
            0,
            1_000_000_000_000,
            "slip_repair_cost",
            "currency",
            "cost of the repair after a joint slip",
        ),
        _from(0, 100_000, "slip_repair_h", "h", "standstill for the repair after a joint slip"),
        _text("currency", "ISO 4217 code, as EUR; one currency in one ranking"),
    ),
    needed=True,
)
