// Two people answered the same check: both answers, and which one stands.

function conflictScreen(page, unit, walkdown) {
  const names = Object.keys(walkdown.conflicts);
  return {
    title: "Answered twice",
    body: names.length ? names.map((name) => conflictOf(page, walkdown, name, true))
      : [paragraph("Nothing is left to decide.")],
    bar: [button("All checks", "to-list", () => go(placeOf(unit.unit_id, "list")),
      { class: names.length ? null : "strong" })],
  };
}

function conflictOf(page, walkdown, name, named = false) {
  const letter = walkdown.conflicts[name];
  if (!letter) return null;
  const step = page.unit.steps.find((one) => one.check === name) || detailNamed(page, name)
    || { label: HEAD_WORDS[name] || name, options: headOptions(page, name), entries: [] };
  const { theirs } = letter;
  const choose = (mine) => () => {
    walkdown.decide(name, mine);
    walkdown.type(name, null);
    page.draw();
  };
  const both = [
    ["Yours", letter, true], [theirs.by || "The other", theirs, false],
  ].map(([who, answer, mine]) => button([
    element("span", {}, `${who}, ${shortTime(answer.at)}`),
    element("strong", {}, answerWords(page, step, answer)),
  ], `stands-${mine ? "mine" : "theirs"}=${name}`, choose(mine), { class: "choice two" }));
  return element("section", { class: "response", role: "alert" },
    named ? element("h2", {}, sentence(step.label)) : null,
    paragraph("Somebody else answered this meanwhile. Which answer stands?"),
    element("div", { class: "choices" }, both));
}

function headOptions({ form }, name) {
  const offered = { kind: form.kinds, machine_state: form.states, units_of_measure: form.measures };
  return offered[name] || [];
}

const HEAD_WORDS = {
  kind: "why it was looked at", machine_state: "state of the machine", inspected_on: "day",
  inspector: "name", units_of_measure: "units of measure", notes: "notes",
};
