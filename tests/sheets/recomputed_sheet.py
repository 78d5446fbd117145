"""Reckon a printed calculation sheet again: reads the HTML, and knows nothing of the program.

``python recomputed_sheet.py sheet.html`` tells of each number what stands there and what this plain
script makes of the inputs beside it. Every formula is typed here a second time.
"""

import math
import sys
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path

RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
OTHERWISE_TOLD = {"mm": 1e-3, "µm": 1e-6, "MPa": 1e6, "rpm": 1 / 60, "°": math.pi / 180}
"""To metres, pascals, turns a second, radians; all else stays as it is printed."""

NOT_RECKONED = {
    "load that the arm adds to one bearing": "mean over a turn and over what was not measured: "
    "0 where nothing holds the arm, else a model of the anchor that no line on paper can hold",
    "bearing life ratio": "the same mean of a power: 1 where nothing holds the arm",
    "run-out at the seal over what it follows": "the same mean of the lip: hub alone where nothing "
    "holds the arm",
    "multiplier of the grip, against usual joints known as well": "mean over margins that survived "
    "since the joint was hung, over that of usual joints: two integrals",
}
"""Numbers that cannot be followed with a pen, and why; reckoned where they have no integral."""


@dataclass
class Printed:
    """One number as it is printed."""

    topic: str
    name: str
    value: str
    inputs: list[tuple[str, str]] = field(default_factory=list)

    def at(self, name: str) -> float:
        """Return an input in basic units."""
        return number(dict(self.inputs)[name])

    def every(self, *but: str) -> list[float]:
        """Return all inputs that are numbers, but for some."""
        return [number(value) for name, value in self.inputs if name not in but]


@dataclass
class PrintedSheet:
    """All that is printed."""

    numbers: list[Printed] = field(default_factory=list)
    effects: dict[str, list[dict[str, str]]] = field(default_factory=dict)
    grip: list[tuple[float, float]] = field(default_factory=list)


def number(text: str) -> float:
    """Return a printed value in basic units.

    >>> number("60 rpm"), number("2.5×10⁻⁷"), number("loose") != number("loose")
    (1.0, 2.5e-07, True)
    """
    figure, _, unit = text.partition(" ")
    digits, _, power = figure.partition("×10")
    try:
        value = float(digits) * 10.0 ** int(power.translate(RAISED) or 0)
    except ValueError:
        return math.nan
    return value * OTHERWISE_TOLD.get(unit, 1.0)


def last_digit(text: str) -> float:
    """Return how much one in the last digit of a printed value is, of at most five.

    >>> round(last_digit("0.0250 mm"), 9), last_digit("15559 N"), last_digit("465566 h")
    (1e-07, 1.0, 10.0)
    """
    figure, _, unit = text.partition(" ")
    digits, _, power = figure.partition("×10")
    places = len(digits.partition(".")[2])
    more_than_five = max(len(digits.lstrip("-").partition(".")[0]) - 5, 0)
    step = 10.0 ** (int(power.translate(RAISED) or 0) - places + more_than_five)
    return step * OTHERWISE_TOLD.get(unit, 1.0)


class Reader(HTMLParser):
    """Takes numbers, tables and headings out of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.sheet = PrintedSheet()
        self.topic = ""
        self.open: list[tuple[str, str]] = []
        self.cells: list[str] = []
        self.heading: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in {"meta", "img", "br"}:
            return
        kind = dict(attrs).get("class") or ""
        self.open.append((tag, kind))
        if kind == "worked":
            self.sheet.numbers.append(Printed(self.topic, "", ""))
        elif kind == "input":
            self.sheet.numbers[-1].inputs.append(("", ""))
        elif tag == "h2":
            self.topic = ""
        elif tag == "tr":
            self.cells = []
        elif tag in {"td", "th"}:
            self.cells.append("")

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop()[0] != tag:
            pass
        if tag == "thead":
            self.heading = self.cells
        elif tag == "tr" and self.heading and self.cells != self.heading:
            self.row(dict(zip(self.heading, self.cells, strict=False)))

    def row(self, row: dict[str, str]) -> None:
        if self.heading[0].startswith("effect on"):
            self.sheet.effects.setdefault(self.topic, []).append(row)
        elif self.heading[0] == "grip left":
            pairs = zip(self.cells[::2], self.cells[1::2], strict=True)
            self.sheet.grip += [(number(left), number(chance)) for left, chance in pairs if left]

    def handle_data(self, data: str) -> None:
        tags, kinds = [tag for tag, _ in self.open], [kind for _, kind in self.open]
        if "h2" in tags:
            self.topic += data
        if "td" in tags or "th" in tags:
            self.cells[-1] += data.strip()
        if "worked" not in kinds:
            return
        one = self.sheet.numbers[-1]
        if "input" in kinds:
            name, value = one.inputs[-1]
            if kinds[-1] == "name":
                one.inputs[-1] = (name + data, value)
            elif kinds[-1] == "value":
                one.inputs[-1] = (name, value + data)
        elif kinds[-1] == "name":
            one.name += data
        elif kinds[-1] == "value":
            one.value += data


def read(page: str) -> PrintedSheet:
    """Return what is printed on a page."""
    reader = Reader()
    reader.feed(page)
    return reader.sheet


def reckoned(one: Printed, sheet: PrintedSheet) -> float | None:
    """Return what a number comes to by its inputs, in basic units; None where that needs more."""
    by_name = {
        "torque carried as specified, estimated from the screws": rating_by_screws,
        "pressure on the shaft as specified": pressure,
        "capacity, as found over as specified": capacity,
        "slip margin": margin,
        "creep at the edge of the joint at every peak": creep,
        "force in the link": link,
        "share of the link force on the bearing nearer the arm": share,
        "load of the low-speed bearing nearer the arm, unit floating": bearing_load,
        "load of the low-speed bearing farther from the arm, unit floating": bearing_load,
        "load of the low-speed bearings over that usual for such a shaft": load_over_usual,
        "load that the arm adds to one bearing": nothing_added,
        "bearing life ratio": life_as_floating,
        "rating life of both bearings, floating": rating_life,
        "rating life of both bearings, as found": lambda one: math.prod(one.every()),
        "run-out at the seal over what it follows": runout,
        "surface speed under the lip": lambda one: (
            math.pi * one.at("shaft diameter") * one.at("speed")
        ),
        "what the nameplate makes of the rate": lambda one: math.prod(one.every()),
        "rate of such a unit without faults": base_rate,
        "margin as specified, drawn towards what is usual": drawn_margin,
        "multiplier of the grip, against usual joints known as well": lambda _: None,
        "product of the multipliers by the handbook": lambda one: math.prod(one.every()),
        "what findings add, each as a finding": findings,
        "what was learned of the nameplate": lambda one: math.prod(one.every()),
        "what the fleet's own failures make of it": fleets_own,
        "time ahead, as it counts by age": time_ahead,
        "expected failures within the horizon": lambda one: math.prod(one.every()),
        "log standard deviation of the hazard": lambda one: math.hypot(*one.every()),
        "median of the expected failures": median,
        "90 % interval of that chance, lower end": lambda one: interval_end(one, -1),
        "90 % interval of that chance, upper end": lambda one: interval_end(one, 1),
        "expected loss within the horizon": loss,
    }
    if one.name == "multiplier of the grip":
        return grip(one, sheet)
    if one.name == "multipliers of what nobody saw":
        rows = sheet.effects.get(one.topic, [])
        unseen = [row for row in rows if row["how it is known"].startswith("not seen")]
        return math.prod(number(row["by the handbook ×"]) for row in unseen)
    if one.name.startswith("outside the fleet"):
        return outside(one)
    if one.name.startswith("cost of a"):
        return one.at("repair") + one.at("hours of standstill") * one.at("cost of standstill")
    if one.name == one.topic and one.name.startswith("chance of a"):
        return chance(one)
    return by_name[one.name](one)


def rating_by_screws(one):
    pressed = one.at("pressure by the screws") - one.at("pressure that closes the fit")
    bore = math.pi * one.at("shaft diameter") ** 2 * one.at("clamp length") / 2
    carried = one.at("friction, clean and dry") * bore * pressed
    return min(carried, one.at("torsion of the shaft"))


def pressure(one):
    gripped = math.pi * one.at("shaft diameter") ** 2 * one.at("clamp length")
    return 2 * one.at("rated torque") / (one.at("friction, clean and dry") * gripped)


def capacity(one):
    return math.prod(one.every("grip")) if "grip" not in dict(one.inputs) else None


def margin(one):
    peak = one.at("running torque") * one.at("peak over running torque")
    return one.at("joint's rated torque") * one.at("capacity ratio") / peak


def creep(one):
    size = one.at("clamp length") * one.at("shaft diameter")
    return (
        one.at("peak torque") ** 2 * size / (4 * one.at("torsional stiffness") * one.at("capacity"))
    )


def link(one):
    return one.at("running torque") / (one.at("arm length") * math.sin(one.at("angle")))


def share(one):
    return 1 + one.at("arm beside the nearer bearing") / one.at("bearing span")


def bearing_load(one):
    radius = one.at("gear radius over shaft diameter") * one.at("shaft diameter")
    gear_and_weight = one.at("running torque") / radius + one.at("mass") * 9.80665
    of_arm = one.at("its share of the link force") * one.at("running torque") / one.at("arm length")
    return gear_and_weight / 2 + of_arm


def load_over_usual(one):
    power = one.at("Weibull slope") * one.at("life exponent p")
    damped = power * one.at("damping")
    ratio = one.at("usual ratio") ** power
    both = one.at("nearer over usual") ** damped + ratio * one.at("farther over usual") ** damped
    return (both / (1 + ratio)) ** (1 / damped)


def nothing_holds(one):
    return one.at("chance that rubber holds it") + one.at("chance that metal holds it") == 0


def nothing_added(one):
    return 0.0 if nothing_holds(one) else None


def life_as_floating(one):
    return 1.0 if nothing_holds(one) else None


def runout(one):
    return one.at("run-out of the hub") / one.at("allowance") if nothing_holds(one) else None


def rating_life(one):
    exponent, slope = one.at("life exponent p"), one.at("Weibull slope")
    hours = [
        1e6 * (one.at("dynamic rating") / one.at(load)) ** exponent / one.at("speed") / 3600
        for load in ("load nearer the arm", "load farther from it")
    ]
    return sum(life**-slope for life in hours) ** (-1 / slope)


def base_rate(one):
    named = one.at("field rate") * one.at("what the nameplate makes of the rate")
    return named / one.at("product of usual multipliers")


def drawn_margin(one):
    usual, computed = one.at("usual margin"), one.at("rated over peak torque")
    if math.isnan(computed):
        return usual
    among, of_it = (
        one.at("log standard deviation among joints"),
        one.at("log standard deviation of it"),
    )
    weights = 1 / among**2, 1 / of_it**2
    logs = math.log(usual) * weights[0] + math.log(computed) * weights[1]
    return math.exp(logs / sum(weights))


def grip(one, sheet):
    most, exponent = one.at("most"), one.at("exponent")
    times = [most if left == 0 else min(left**-exponent, most) for left, _ in sheet.grip]
    return sum(chance * much for (_, chance), much in zip(sheet.grip, times, strict=True))


def findings(one):
    made = 1.0
    for name, value in one.inputs:
        base, _, power = name.rpartition(", ")[2].partition("^")
        found, _, stood = power.strip("()").partition(" - ")
        by_name = float(base) ** (float(found) - float(stood))
        assert abs(by_name / number(value) - 1) < 1e-2, (name, value)
        made *= number(value)
    return made


def fleets_own(one):
    return math.prod(
        one.every(
            "log standard deviation of it",
            "share of the handbook's variance that the failures took away",
        )
    )


def time_ahead(one):
    """Add up thousands of thin slices of the time ahead, instead of its formula."""
    start, length, slices = one.at("age of the part"), one.at("horizon"), 20_000
    usual, slope = one.at("usual age"), one.at("slope")
    if start == 0 and slope < 1:
        return None
    middles = (start + length * (n + 0.5) / slices for n in range(slices))
    return sum((age / usual) ** (slope - 1) for age in middles) * length / slices


def median(one):
    return one.at("expected failures") * math.exp(-(one.at("log standard deviation") ** 2) / 2)


def interval_end(one, sign):
    away = one.at("standard deviations each way") * one.at("log standard deviation")
    hazard = one.at("median of the expected failures") * math.exp(sign * away)
    end = -math.expm1(-hazard)
    if "chance" not in dict(one.inputs):
        return end
    return max(end, one.at("chance")) if sign > 0 else min(end, one.at("chance"))


def chance(one):
    if "expected failures" not in dict(one.inputs):
        return 1.0
    spread, hazard, steps = one.at("units alike on paper"), one.at("expected failures"), 4000
    total = weights = 0.0
    for n in range(-steps, steps + 1):
        away = 9.0 * n / steps
        weight = math.exp(-(away**2) / 2)
        total -= weight * math.expm1(-hazard * math.exp(spread * away - spread**2 / 2))
        weights += weight
    return total / weights


def outside(one):
    own, other = one.every()
    return own - other if one.value.endswith("K") else own / other


def loss(one):
    values = one.every()
    return sum(chance * cost for chance, cost in zip(values[::2], values[1::2], strict=True))


@dataclass(frozen=True)
class Compared:
    """A printed number beside what it comes to."""

    printed: Printed
    made: float | None

    @property
    def reckoned(self) -> bool:
        """Whether it could be reckoned at all."""
        return self.made is not None

    @property
    def away(self) -> float:
        """How far both are apart, in units of the last digit printed."""
        return abs(self.made - number(self.printed.value)) / last_digit(self.printed.value)


def compared(page: str) -> list[Compared]:
    """Return every printed number that has a value, beside what it comes to."""
    sheet = read(page)
    known = [one for one in sheet.numbers if one.value != "not known"]
    return [Compared(one, reckoned(one, sheet)) for one in known]


if __name__ == "__main__":
    for found in compared(Path(sys.argv[1]).read_text(encoding="utf-8")):
        made = (
            f"{found.made:.6g}, {found.away:.2f} of the last digit"
            if found.reckoned
            else "not reckoned"
        )
        one = found.printed
        sys.stdout.write(f"{one.topic} | {one.name} | {one.value} | {made}\n")
