"""What the nameplate makes of a rate: by hand, over usual nameplates, and how sure it is."""

import numpy as np
import pytest
from fleets import Book
from hypothesis import given, settings
from hypothesis import strategies as st
from units_looked_at import units_table

from scoring.contract.events import MODES
from scoring.handbook.nameplate_columns import TERMS, nameplate_columns

BEARING, SEAL, SLIP = "low_speed_bearing", "seal_leak", "joint_slip"
# power and its deviation, for bearings, seals and slips; spread of usual logarithms
NUMBERS = {
    "duty_h_per_day": ((0.8, 0.3), (0.7, 0.3), (0.3, 0.3), 16, 0.35),
    "peak_factor": ((0.5, 0.3), (0.2, 0.25), None, 2, 0.25),
    "output_speed_rpm": ((0.4, 0.3), (0.4, 0.3), None, 60, 0.5),
    "shaft_diameter_mm": ((0.2, 0.3), (0.2, 0.3), None, 80, 0.0),
}
LOADS = {BEARING: 0.7, SEAL: 0.2}
RATINGS = np.hypot(0.2, np.log(1.8) / 2)
"""Standard deviation of the logarithm of a rating of either kind."""
ENVIRONMENTS = {
    "dry_indoor": (0.25, 0.8, 0.7),
    "dusty": (0.35, 1.15, 1.25),
    "washdown": (0.1, 1.2, 1.4),
    "outdoor": (0.3, 1.0, 1.0),
}
COLUMNS_THAT_MAY_BE_BLANK = {*NUMBERS, "environment", "seal_material", "bearing_dynamic_rating_n"}
COLUMNS_THAT_MAY_BE_BLANK -= {"shaft_diameter_mm"}
SEALS = {"nbr": (0.6, 1.15), "hnbr": (0.15, 1.0), "fkm": (0.25, 0.85)}


def plate(mode, **cells):
    return nameplate_columns(mode, units_table(Book().unit(**cells)))


def shape(mode, **cells):
    """Over that of a blank nameplate on the same shaft, if that is not in question."""
    size = {"shaft_diameter_mm": cells.get("shaft_diameter_mm", "80")}
    blank = 0.0 if "shaft_diameter_mm" in cells else plate(mode, **size).log_shape[0]
    return float(np.exp(plate(mode, **(size | cells)).log_shape[0] - blank))


@pytest.mark.parametrize("mode", MODES)
def test_a_nameplate_of_usual_size_and_else_blank_has_the_field_rate(mode):
    assert plate(mode, shaft_diameter_mm="80").log_shape[0] == 0


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("column", NUMBERS)
@pytest.mark.parametrize("times", [0.5, 1, 1.25])
def test_a_number_counts_by_its_power_about_a_mean_of_1(mode, column, times):
    *powers, usual, spread = NUMBERS[column]
    power = (powers[MODES.index(mode)] or (0, 0))[0]
    expected = times**power * np.exp(-(power**2) * spread**2 / 2)
    if column == "shaft_diameter_mm":  # usual loads rise with its square, ratings to the power 1.7
        expected *= times ** (0.3 * LOADS.get(mode, 0.0))
    value = max(times, 0.5) * usual
    assert shape(mode, **{column: str(value)}) == pytest.approx(expected)


@pytest.mark.parametrize(("mode", "power"), [(BEARING, 0.1), (SEAL, 0.2), (SLIP, 0.0)])
def test_every_ten_kelvins_count_alike(mode, power):
    ambient = {t: shape(mode, ambient_c=str(t)) for t in (10, 20, 40)}
    assert ambient[20] == pytest.approx(np.exp(-(power**2) * 0.8**2 / 2))
    assert ambient[10] / ambient[20] == pytest.approx(np.exp(-power))
    assert ambient[40] / ambient[20] == pytest.approx(np.exp(2 * power))


@pytest.mark.parametrize("word", ENVIRONMENTS)
def test_surroundings_multiply_over_their_usual_mean(word):
    shares = np.array([share for share, *_ in ENVIRONMENTS.values()])
    for place, mode in enumerate((BEARING, SEAL), start=1):
        usual = shares @ [one[place] for one in ENVIRONMENTS.values()]
        expected = ENVIRONMENTS[word][place] / usual
        assert shape(mode, environment=word) == pytest.approx(expected)
    assert shape(SLIP, environment=word) == 1


@pytest.mark.parametrize("word", SEALS)
def test_the_rubber_of_the_seal_matters_to_leaks_alone(word):
    usual = sum(share * times for share, times in SEALS.values())
    assert shape(SEAL, seal_material=word) == pytest.approx(SEALS[word][1] / usual)
    assert shape(BEARING, seal_material=word) == 1
    assert shape(SLIP, seal_material=word) == 1


@pytest.mark.parametrize("mode", [BEARING, SEAL])
def test_load_over_rating_counts_by_its_power(mode):
    """Rating alone, by hand: of a 160 mm shaft 75 kN times 2 to the power 1.7."""
    power, usual = LOADS[mode], 75_000 * 2**1.7
    cells = {"shaft_diameter_mm": "160"}
    blank = plate(mode, **cells).log_shape[0]

    def over_blank(**more):
        return float(np.exp(plate(mode, **cells, **more).log_shape[0] - blank))

    mean = np.exp(-(power**2) * RATINGS**2 / 2)
    for times in (0.5, 1.0, 2.0):
        found = over_blank(bearing_dynamic_rating_n=str(usual * times))
        assert found == pytest.approx(times**-power * mean)
    of_a_kind = np.exp(-(power**2) * (RATINGS**2 - 0.2**2) / 2)
    for kind, better in (("roller", 1.8**0.5), ("ball", 1.8**-0.5)):
        assert over_blank(bearing_kind=kind) == pytest.approx(better**-power * of_a_kind)


def test_a_torque_of_the_motor_alone_is_somewhat_less_and_less_sure():
    """At 60 rpm 11.26 kW are 1,792 N·m, the torque usual for 80 mm."""
    cells = {"shaft_diameter_mm": "80", "output_speed_rpm": "60"}
    kilowatts = 0.0035 * 80**3 * 60 * 2 * np.pi / 60 / 1000
    by_motor = plate(BEARING, **cells, motor_power_kw=f"{kilowatts:.9f}")
    by_torque = plate(BEARING, **cells, output_torque_nm=f"{0.0035 * 80**3:.9f}")
    load = by_motor.terms.names.index("load_over_rating")
    assert by_torque.over_usual[0, load] == pytest.approx(0, abs=1e-9)
    assert by_motor.over_usual[0, load] == pytest.approx(np.log(0.8))
    assert by_torque.blank[0, load] == pytest.approx(RATINGS**2)
    assert by_motor.blank[0, load] == pytest.approx(0.25**2 + RATINGS**2)
    assert plate(BEARING, **cells).blank[0, load] == pytest.approx(0.4**2 + RATINGS**2)


@pytest.mark.parametrize("mode", MODES)
def test_usual_nameplates_fail_at_the_field_rate_on_average(mode):
    """40,000 nameplates drawn as they usually are, a third of the cells blank at random."""
    chance, size = np.random.default_rng(5), 40_000
    units = units_table(Book().unit()).iloc[np.zeros(size, int)].reset_index(drop=True)
    shaft = 80 * np.exp(0.35 * chance.normal(size=size))
    units["shaft_diameter_mm"] = shaft

    def some(values):
        return np.where(chance.random(size) < 1 / 3, np.nan, values)

    for column, (*_, usual, spread) in NUMBERS.items():
        if column != "shaft_diameter_mm":
            units[column] = some(usual * np.exp(spread * chance.normal(size=size)))
    units["ambient_c"] = some(20 + 8 * chance.normal(size=size))
    for column, words in (("environment", ENVIRONMENTS), ("seal_material", SEALS)):
        drawn = chance.choice(list(words), size, p=[share for share, *_ in words.values()])
        units[column] = np.where(chance.random(size) < 1 / 3, None, drawn)
    kind = chance.choice(["ball", "roller"], size)
    rating = 75_000 * (shaft / 80) ** 1.7 * np.where(kind == "roller", 1.8**0.5, 1.8**-0.5)
    units["bearing_dynamic_rating_n"] = some(rating * np.exp(0.2 * chance.normal(size=size)))
    units["bearing_kind"] = np.where(chance.random(size) < 1 / 3, None, kind)
    mean = np.exp(nameplate_columns(mode, units).log_shape).mean()
    assert mean == pytest.approx(1, abs=0.03)


@settings(max_examples=50, deadline=None)
@given(
    st.sampled_from((BEARING, SEAL)),
    st.sampled_from(sorted(COLUMNS_THAT_MAY_BE_BLANK)),
)
def test_a_blank_lies_between(mode, column):
    values = {
        "environment": [*ENVIRONMENTS],
        "seal_material": [*SEALS],
        "bearing_dynamic_rating_n": ["30000", "200000"],
    }.get(column)
    if values is None:
        *_, usual, spread = NUMBERS[column]
        values = [str(usual * np.exp(sign * spread)) for sign in (-1, 1)]
    found = [plate(mode, **{column: value}).log_shape[0] for value in values]
    assert min(found) <= plate(mode).log_shape[0] <= max(found)


@pytest.mark.parametrize("mode", MODES)
def test_how_unsure_it_is_grows_with_the_distance_from_the_usual(mode):
    """By hand, of duty, speed and peak, each at a quarter of the usual or so."""
    cells = {"duty_h_per_day": "4", "output_speed_rpm": "240", "peak_factor": "3"}
    ratios = {"duty_h_per_day": 1 / 4, "output_speed_rpm": 4, "peak_factor": 1.5}
    here = MODES.index(mode)
    deviations = {c: (NUMBERS[c][here] or (0, 0))[1] for c in cells}
    far = sum((deviations[c] * np.log(ratio)) ** 2 for c, ratio in ratios.items())
    size = {"shaft_diameter_mm": "80"}
    near = plate(mode, **size).variance[0]
    assert plate(mode, **size, **cells).variance[0] - near == pytest.approx(far)
    assert far > 0.05


@pytest.mark.parametrize("mode", [BEARING, SEAL])
def test_what_is_blank_is_unsure_by_how_much_it_usually_differs(mode):
    here = (BEARING, SEAL).index(mode)
    blank = plate(mode, shaft_diameter_mm="80")
    numbers = {c: (row[here][0], row[-1]) for c, row in NUMBERS.items() if c != "shaft_diameter_mm"}
    expected = sum((power * spread) ** 2 for power, spread in numbers.values())
    expected += ((0.1, 0.2)[here] * 0.8) ** 2
    expected += LOADS[mode] ** 2 * (0.4**2 + RATINGS**2)
    words = [[(s, row[here]) for s, *row in ENVIRONMENTS.values()]]
    if mode == SEAL:
        words.append(list(SEALS.values()))
    for one in words:
        mean = sum(share * np.log(times) for share, times in one)
        expected += sum(share * (np.log(times) - mean) ** 2 for share, times in one)
    assert blank.variance_of_blanks()[0] == pytest.approx(expected)
    one = np.zeros(len(blank.terms.names))
    one[blank.terms.names.index("duty_h_per_day")] = 0.5
    duty = numbers["duty_h_per_day"][0]
    more = ((duty + 0.5) ** 2 - duty**2) * 0.35**2
    assert blank.variance_of_blanks(one)[0] == pytest.approx(expected + more)


@pytest.mark.parametrize("mode", [BEARING, SEAL])
def test_more_load_duty_and_peak_can_never_be_learned_to_help(mode):
    terms = TERMS[mode]
    least = dict(zip(terms.names, terms.floor + terms.handbook, strict=True))
    of_load = 0.1 * 1.3 * 10 / 3 if mode == BEARING else 0
    assert least["load_over_rating"] == pytest.approx(of_load)
    for column in ("duty_h_per_day", "peak_factor"):
        assert least[column] == pytest.approx(0)
    free = [name for name in terms.names if np.isinf(least[name])]
    assert {"output_speed_rpm", "shaft_diameter_mm", "ambient_c"} < set(free)
    assert len(free) == len(terms.names) - 3
