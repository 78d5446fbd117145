// The last answer can be undone, on whatever screen one is by then: what stood there stands again.

// Does what answers a check, and keeps what was said of it and its details before.
function canBeUndone(page, walkdown, step, giveIt) {
  const names = [step.check, ...step.details.map((detail) => detail.name)];
  const before = names.map((name) => [name, { ...answerTo(walkdown, name) }]);
  giveIt();
  const changed = before.filter(([name, was]) => !isSame(was, answerTo(walkdown, name)));
  if (changed.length) page.undo = { unit_id: page.unit.unit_id, walkdown, step, before: changed };
}

function isSame(one, other) {
  return ["heading", "value", "reason"].every((part) => one[part] === other[part]);
}

function undoButton(page, walkdown) {
  const { undo } = page;
  if (!undo || undo.walkdown !== walkdown || walkdown.locked) return null;
  return button(`Undo: ${undo.step.label}`, "undo", () => {
    for (const [name, { heading, value, reason }] of undo.before) {
      const named = heading || (name === undo.step.check ? answerOf(undo.step, "").heading : name);
      walkdown.give(name, { heading: named, value, reason });
    }
    page.undo = null;
    page.beforeLeaving = null;
    const place = placeOf(undo.unit_id, "check", undo.step.check);
    if (location.hash === place) page.draw();
    else go(place);
    page.say(`Undone: ${undo.step.label}, ${answerWords(page, undo.step,
      answerTo(walkdown, undo.step.check))}.`);
  }, { class: "plain" });
}
