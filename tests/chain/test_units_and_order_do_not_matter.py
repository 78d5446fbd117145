"""Units of measure, the order of rows and that of columns change no answer."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pyarrow as pa
from drawn_units import looks, nameplates, possible
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from looked_at_units import AS_OF, Unit, assess_units, chance

from scoring.assessment import FleetAssessor
from scoring.contract.events import MODES
from scoring.contract.mountings import EVERY_MOUNTING, SHRINK_DISC
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

OTHER_UNITS = {  # longest ending first: what the value is divided by
    "_mm_s": ("_in_s_rms", 25.4),
    "_mm": ("_in", 25.4),
    "_nm": ("_lbft", 1.3558179483314004),
    "_n": ("_lbf", 4.4482216152605),
    "_kg": ("_lb", 0.45359237),
    "_kw": ("_hp", 0.7456998715822702),
}


def in_other_units(cells):
    return dict(converted(name, value) for name, value in cells.items())


def converted(name, value):
    if name.endswith("_c"):
        return name.removesuffix("_c") + "_f", value * 1.8 + 32
    for ending, (other, size) in OTHER_UNITS.items():
        if name.endswith(ending):
            return name.removesuffix(ending) + other, value / size
    return name, value


@settings(
    max_examples=4,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    phases=[Phase.explicit, Phase.reuse, Phase.generate],  # shrinking is slow
)
@given(data=st.data())
def test_units_of_measure_do_not_matter(data):
    units = []
    for mounting in EVERY_MOUNTING:
        plate = data.draw(nameplates(mounting))
        found = data.draw(looks(mounting, plate["shaft_diameter_mm"]))
        units.append(Unit(plate, possible(plate, found)))
    metric = assess_units(units)
    inches = assess_units([Unit(in_other_units(u.plate), in_other_units(u.checks)) for u in units])
    columns = ["slip_margin", "added_bearing_load_n", "bearing_life_ratio", "expected_loss"]
    for mode in MODES:
        columns += [f"p_{mode}", f"p_{mode}_low", f"p_{mode}_high"]
    one, other = (a.ranking.set_index("unit_id").sort_index() for a in (metric, inches))
    pd.testing.assert_frame_equal(one[columns], other[columns], rtol=1e-8)
    assert one["verdict"].tolist() == other["verdict"].tolist()


def test_a_value_just_at_its_limit_is_good_in_inches_too():
    """A length converted from inches may miss its limit by a rounding."""
    lengths = np.arange(40.0, 140.0)
    plate = {"mounting": SHRINK_DISC, "joint_rated_torque_nm": 9000}
    units = [
        Unit(
            {**plate, "required_engagement_mm": length, "isolator_thickness_mm": length},
            {"engagement_in": length / 25.4, "isolator_squeeze_in": 0.15 * length / 25.4},
        )
        for length in lengths
    ]
    consequences = assess_units(units).consequences
    assert (consequences.grip.factors["engagement"] == 1).all()
    assert (consequences.restraint.share_clamped < 1).all()


def test_order_of_rows_and_columns_does_not_matter():
    tables = read_fleet("demo:small_quarry").tables
    chance_of_order = np.random.default_rng(1)
    shuffled = {name: in_another_order(table, chance_of_order) for name, table in tables.items()}
    one, other = (
        FleetAssessor(check_fleet(t, AS_OF).fleet).assess(AS_OF) for t in (tables, shuffled)
    )
    pd.testing.assert_frame_equal(one.ranking, other.ranking, rtol=1e-12)


def in_another_order(table, chance_of_order):
    rows = chance_of_order.permutation(len(table.rows))
    columns = chance_of_order.permutation(len(table.headings))
    return replace(
        table,
        headings=tuple(table.headings[n] for n in columns),
        cells=tuple(table.cells[n].take(pa.array(rows)) for n in columns),
    )


def test_a_longer_horizon_never_lowers_a_chance():
    fleet = FleetAssessor(check_fleet(read_fleet("demo:small_quarry").tables, AS_OF).fleet)
    runs = [fleet.assess(AS_OF, days) for days in (1, 365, 366, 3650)]
    for mode in MODES:
        risks = [run.risk.modes[mode] for run in runs]
        for ends in ("probability", "low", "high"):
            assert (np.diff([getattr(risk, ends) for risk in risks], axis=0) >= 0).all()
        for risk in risks:
            assert (risk.low >= 0).all()
            assert (risk.low <= risk.probability).all()
            assert (risk.probability <= risk.high).all()
            assert (risk.high <= 1).all()
        assert (chance(runs[-1], mode) > chance(runs[0], mode)).any()
