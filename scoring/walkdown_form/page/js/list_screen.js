// All checks with what was said of each, to jump to.

const STANDING_MARKS = { answered: "✓", "not seen": "–", typed: "?", open: "○" };

function listScreen(page, unit, walkdown) {
  const steps = stepsAsked(page, unit, walkdown);
  const { open, typed, all } = countStanding(page, unit, walkdown);
  const next = steps.find((step) => ["open", "typed"].includes(standing(walkdown, step)));
  return {
    title: "All checks",
    beside: `${all - open - typed} of ${all}`,
    body: [stationsOf(steps).map(([first, there]) => element("section", {},
      element("h2", {}, `${first.station}  ${first.station_words}`),
      element("ul", { class: "rows" },
        there.map((step) => checkRow(page, unit, walkdown, step))))),
    element("section", { class: "choices" }, undoButton(page, walkdown), button("Why, in which state, who and when", "to-start",
      () => go(placeOf(unit.unit_id, "start"))))],
    bar: [
      page.data.mode === "online" ? null : button("Route", "to-route", () => go("#/")),
      button("End", "to-end", () => go(placeOf(unit.unit_id, "end")),
        { class: next ? null : "strong" }),
      next ? button("Next open", "next", () => go(placeOf(unit.unit_id, "check", next.check)),
        { class: "strong" }) : null,
    ],
  };
}

function stationsOf(steps) {
  const stations = new Map();
  for (const step of steps) {
    if (!stations.has(step.station)) stations.set(step.station, [step, []]);
    stations.get(step.station)[1].push(step);
  }
  return [...stations.values()];
}

function checkRow(page, unit, walkdown, step) {
  const stands = standing(walkdown, step);
  const option = meaningOf(walkdown, step);
  const isHold = option && option.severity === "hold";
  const typed = walkdown.typed(step.check);
  const unkept = walkdown.refused[step.check] || walkdown.conflicts[step.check];
  const words = unkept ? "not saved: please look" : {
    open: "open",
    typed: `${typed ? typed.text : ""}: not confirmed yet`,
  }[stands] || answerWords(page, step, answerTo(walkdown, step.check));
  const alarm = isHold || unkept ? "far alarm" : "far";
  return element("li", {}, button([
    element("span", { class: "mark", "aria-hidden": "true" },
      isHold ? "■" : STANDING_MARKS[stands]),
    element("strong", {}, sentence(step.label)),
    element("span", { class: alarm }, isHold ? `hold: ${words}` : words),
  ], `check=${step.check}`, () => go(placeOf(unit.unit_id, "check", step.check)),
  { class: "row check", "data-standing": stands }));
}
