// Which checks are asked, and how far one is with each.

const HEAD_FIELDS = ["kind", "machine_state", "inspected_on", "inspector", "units_of_measure"];
const NOTHING = { heading: "", value: "", reason: "" };

function answerTo(walkdown, name) {
  return walkdown.answers[name] || NOTHING;
}

function isGiven(answer) {
  return answer.value !== "" || answer.reason !== "";
}

// What machine and kind of visit let one see, and whatever was answered before they changed.
function stepsAsked(page, unit, walkdown) {
  const chosen = answerTo(walkdown, "machine_state").value;
  const state = page.form.states.find((one) => one.value === chosen);
  const seen = state ? state.seen : [];
  const kind = answerTo(walkdown, "kind").value;
  const isAsked = (step) => !step.asked_on.length || step.asked_on.includes(kind);
  return unit.steps.filter(
    (step) => (seen.includes(step.seen) && isAsked(step))
      || isGiven(answerTo(walkdown, step.check)),
  );
}

// answered, not seen, typed (but not confirmed) or open.
function standing(walkdown, step) {
  const answer = answerTo(walkdown, step.check);
  const typed = walkdown.typed(step.check);
  if (typed && typed.text.trim() && typed.text.trim() !== answer.value) return "typed";
  if (answer.value !== "") return "answered";
  return answer.reason ? "not seen" : "open";
}

function countStanding(page, unit, walkdown) {
  const counts = { answered: 0, "not seen": 0, typed: 0, open: 0, all: 0 };
  for (const step of stepsAsked(page, unit, walkdown)) {
    counts[standing(walkdown, step)] += 1;
    counts.all += 1;
  }
  return counts;
}

// What the answer means by itself: `good`, or its severity, what is wrong and what to do.
function meaningOf(walkdown, step) {
  const answer = answerTo(walkdown, step.check);
  if (answer.value === "") return null;
  return step.options.find((one) => String(one.value) === answer.value) || beyondGood(step, answer);
}

// An answer in words for a person.
function answerWords(page, step, answer) {
  if (answer.reason) {
    const known = page.form.not_seen.find((one) => one.reason === answer.reason);
    return `not seen: ${known ? known.words : answer.reason}`;
  }
  if (answer.value === "") return "no answer";
  const options = (step.several ? answer.value.split(";") : [answer.value])
    .map((word) => step.options.find((one) => String(one.value) === word)).filter(Boolean);
  if (options.length) return options.map((one) => one.words).join("; ");
  const entry = step.entries.find((one) => one.heading === answer.heading);
  return `${answer.value} ${entry ? entry.unit : ""}`.trim();
}

// Holds by single answers alone; the rest needs the records.
function plainHolds(page, unit, walkdown) {
  return stepsAsked(page, unit, walkdown)
    .map((step) => [step, meaningOf(walkdown, step)])
    .filter(([, option]) => option && option.severity === "hold")
    .map(([step, option]) => ({ field: step.check, what: option.what, do: option.do }));
}

// What the start still lacks, in words; without it no check can be asked.
function missingAtStart(walkdown) {
  const words = {
    kind: "why you look at it",
    machine_state: "the state of the machine",
    inspected_on: "the day",
    inspector: "your name",
  };
  return Object.keys(words)
    .filter((name) => answerTo(walkdown, name).value.trim() === "")
    .map((name) => words[name]);
}
