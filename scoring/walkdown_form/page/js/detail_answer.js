// Beside a finding: where it is, or which of two. No check of its own, and never asked of what is good.

function detailsOf(page, walkdown, step) {
  const option = meaningOf(walkdown, step);
  if (!option || option.good) return [];
  return step.details.map((detail) => {
    const taken = answerTo(walkdown, detail.name).value.split(";").filter(Boolean);
    return element("section", {},
      element("h2", {}, `${sentence(detail.label)}?`),
      choices(detail.label, detail.name, asSentences(detail.options), taken, (one) => {
        canBeUndone(page, walkdown, step,
          () => giveWord(walkdown, detail.name, withTapped(detail, taken, one.value)));
        page.draw();
      }, "choices"),
      refusalOf(walkdown, detail.name), conflictOf(page, walkdown, detail.name));
  });
}

// Tapped again, an answer is taken back; of several the order is that of the list.
function withTapped(detail, taken, value) {
  if (!detail.several) return taken.includes(value) ? "" : value;
  return detail.options.map((one) => one.value)
    .filter((one) => taken.includes(one) !== (one === value)).join(";");
}

// What says that there is a finding must not outlive it.
function takeBackDetails(walkdown, step) {
  for (const detail of step.details.filter((one) => one.says)) giveWord(walkdown, detail.name, "");
}

// A detail as a step is said in words.
function detailNamed(page, name) {
  const found = page.unit.steps.flatMap((step) => step.details).find((one) => one.name === name);
  return found ? { ...found, entries: [] } : null;
}
