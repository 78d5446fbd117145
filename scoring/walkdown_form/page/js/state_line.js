// What is saved and what is not, always in sight; and who else is at this unit.

function stateLine(page, walkdown) {
  const { good, words, mark = good ? "✓" : "!" } = page.keeper.stateLine();
  const line = page.stateElement;
  const text = `${mark} ${told(words)}`;
  if (line.textContent !== text) line.textContent = text;
  line.className = good ? "state" : "state warn";
  const notices = walkdown ? noticesOf(page, walkdown) : [];
  page.noticeElement.replaceChildren(...notices);
}

function noticesOf(page, walkdown) {
  const others = walkdown.others.filter(
    (other) => !(other.same_draft && other.name === walkdown.nameNow()), // oneself
  );
  const notices = onceEach(others).map((other) => paragraph(
    `${other.name || "Somebody"} is also at this unit since ${shortTime(other.since)}`
      + `${other.same_draft ? ", in this same walkdown." : ", in another walkdown."}`,
    "notice",
  ));
  const names = Object.keys(walkdown.conflicts);
  const { screen, check } = placeNow();
  const inSight = screen === "conflict" || (names.length === 1 && names[0] === check);
  if (names.length && !inSight) {
    notices.push(button(
      `${counted(names.length, "check")} answered twice: choose which stands`, "to-conflict",
      () => go(placeOf(page.unit.unit_id, "conflict")), { class: "notice warn" },
    ));
  }
  return notices;
}

function onceEach(others) {
  // who began several walkdowns here is one person: a line each would push the check out of sight
  const first = new Map();
  for (const other of others) {
    const who = `${other.same_draft} ${other.name}`;
    if (!first.has(who) || other.since < first.get(who).since) first.set(who, other);
  }
  return [...first.values()];
}
