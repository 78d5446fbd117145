// A number in its own big field. It counts once it can be, and once what is odd is confirmed.

function numberAnswer(page, walkdown, step, goOn) {
  const answer = answerTo(walkdown, step.check);
  const typed = walkdown.typed(step.check);
  const now = {
    text: typed ? typed.text : answer.value,
    entry: entryOf(walkdown, step, typed ? typed.heading : answer.heading),
  };
  const verdict = element("div", { role: "status" });
  const given = () => now.text.trim() === answerTo(walkdown, step.check).value
    && now.entry.heading === answerTo(walkdown, step.check).heading;
  const keepTyped = () => walkdown.type(
    step.check, given() ? null : { text: now.text, heading: now.entry.heading });
  const take = () => {
    canBeUndone(page, walkdown, step, () => walkdown.give(step.check, {
      heading: now.entry.heading, value: now.text.trim(), reason: "",
    }));
    page.draw();
    showResponse();
    return true;
  };
  const change = () => {
    box.focus();
    box.select();
  };
  const show = (judged) => {
    verdict.replaceChildren(...judgement(judged, take, change));
    showResponse();
  };
  const judge = () => judgeNumber(step, now.entry, now.text, countIncluding(page, walkdown, step));
  // True if one may go on: nothing typed, or an answer that counts.
  const settle = () => {
    if (given() || !now.text.trim()) return true;
    const judged = judge();
    if (judged.state === "fine") return take();
    show(judged);
    const yes = verdict.querySelector("button");
    if (yes) yes.focus();
    return false;
  };
  let pause = null;
  const box = element("input", {
    "data-key": "answer", class: "number", maxlength: 40, autocomplete: "off", "aria-label": step.label,
    inputmode: step.kind === "count" ? "numeric" : "decimal", enterkeyhint: "next",
    oninput: (event) => {
      now.text = event.target.value;
      keepTyped();
      clearTimeout(pause);
      verdict.replaceChildren();
      pause = setTimeout(() => given() || show(judge()), 700);
    },
    onkeydown: (event) => { if (event.key === "Enter" && settle()) goOn(); },
    onchange: () => { clearTimeout(pause); if (judge().state === "fine" && !given()) take(); },
  });
  box.value = now.text;
  page.beforeLeaving = settle;
  if (typed && !given()) verdict.append(...judgement(judge(), take, change));
  const pick = (one) => {
    now.entry = step.entries.find((entry) => entry.heading === one.value);
    keepTyped();
    page.draw();
  };
  return [
    element("div", { class: "number-row" }, box,
      now.entry.unit ? element("span", { class: "unit" }, now.entry.unit) : null),
    extraKeys(step, now.entry, box),
    step.entries.length > 1 ? choices("Unit of measure", "unit",
      step.entries.map((one) => ({ value: one.heading, words: one.unit })),
      now.entry.heading, pick, "choices beside small") : null,
    verdict,
    response(given() ? meaningOf(walkdown, step) : null),
  ];
}

// The answered count that this one is a part of, so that it cannot be more.
function countIncluding(page, walkdown, step) {
  const whole = page.unit.steps.find((one) => one.check === (step.allowed || {}).part_of);
  if (!whole) return null;
  const { number } = readNumber(answerTo(walkdown, whole.check).value, { whole: true });
  return number === undefined ? null : { number, label: whole.label };
}

function entryOf(walkdown, step, heading) {
  const measure = answerTo(walkdown, "units_of_measure").value;
  return step.entries.find((one) => one.heading === heading)
    || step.entries.find((one) => one.measure === measure) || step.entries[0];
}

// What a phone's number pad lacks: fractions of an inch, and degrees below zero. The field stays
// the one that is typed into, so that nothing is taken half written.
function extraKeys(step, entry, box) {
  const keys = [];
  if (entry.heading.endsWith("_in")) keys.push(["/", "/"], ["space", " "]);
  const { minimum } = step.allowed || {};
  if (step.kind !== "count" && typeof minimum === "number" && minimum < 0) keys.push(["−", "-"]);
  if (!keys.length) return null;
  return element("div", { class: "choices beside small" }, keys.map(([words, letter]) =>
    button(words, `key=${words}`, () => {
      box.setRangeText(letter, box.selectionStart, box.selectionEnd, "end");
      box.dispatchEvent(new Event("input"));
      box.focus();
    }, { class: "choice key", onmousedown: (event) => event.preventDefault() })));
}

function judgement(judged, take, change) {
  const { state, words, why } = judged;
  if (state === "refused") {
    return [element("div", { class: "response hold" }, element("strong", {}, "Not taken"),
      paragraph(words))];
  }
  if (state === "questioned") {
    return [element("div", { class: "response" }, element("strong", {}, words),
      ...[paragraph(why)].filter(Boolean),
      element("div", { class: "choices beside" },
        button("Yes, it is right", "confirm", take),
        button("Change it", "change", change)))];
  }
  return words && state === "fine" ? [paragraph(words, "quiet")] : [];
}
