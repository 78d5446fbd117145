// The end: what is open, what was found, who was told, and the name under it.

const TOLD = "told";
const SIGNED_BY = "signed by";
const WHY_CORRECTED = "why it is corrected";

function endScreen(page, unit, walkdown) {
  if (walkdown.finished) return doneScreen(page, unit, walkdown);
  const online = page.data.mode === "online";
  if (online) askVerdict(page, walkdown);
  const said = online ? page.verdict : null;
  const holds = said ? said.holds || [] : plainHolds(page, unit, walkdown);
  return {
    title: "The end of the walk",
    body: [
      standingPart(page, unit, walkdown),
      ...verdictPart(page, said, holds),
      ownField("Anything else (notes)", "notes", walkdown, () => {}, { rows: 3, maxlength: 2000 }),
      refusalOf(walkdown, "notes"),
      isToldAsked(said, holds) ? typedField(toldQuestion(said), TOLD, walkdown) : null,
      walkdown.corrects ? typedField(
        `Why is the walkdown ${walkdown.corrects.walkdown_id} corrected?`, WHY_CORRECTED, walkdown)
        : null,
      signField(page, walkdown),
      cautions(page),
    ],
    bar: [
      button("All checks", "to-list", () => go(placeOf(unit.unit_id, "list"))),
      button("Sign", "sign", () => sign(page, unit, walkdown, isToldAsked(said, holds)), { class: "strong" }),
    ],
  };
}

function isHeld(said, holds) {
  const asked = said && (said.faults || []).some((fault) => fault.field === TOLD);
  return holds.length > 0 || Boolean(said && said.verdict === "hold") || Boolean(asked);
}

// Of a hold that is made somebody must know, and of one that a correction lifts.
function isToldAsked(said, holds) {
  return isHeld(said, holds) || Boolean(said && said.lifts_hold);
}

function toldQuestion(said) {
  return said && said.lifts_hold ? "This correction lifts a hold. Who was told of it?"
    : "Who was told of the hold?";
}

function typedText(walkdown, name) {
  const typed = walkdown.typed(name);
  return typed ? typed.text.trim() : "";
}

function typedField(words, name, walkdown, about = {}) {
  const typed = walkdown.typed(name);
  return field(words, name, typed ? typed.text : "",
    (text) => walkdown.type(name, { text }), { enterkeyhint: "done", maxlength: 120, ...about });
}

function signField(page, walkdown) {
  const signedIn = page.data.draft ? page.data.draft.signed_in : "";
  if (signedIn) {
    walkdown.type(SIGNED_BY, { text: signedIn });
    return paragraph(`Signed as ${signedIn}`);
  }
  if (walkdown.typed(SIGNED_BY) === null) {
    const name = person.read().name || answerTo(walkdown, "inspector").value;
    walkdown.type(SIGNED_BY, { text: name });
  }
  return typedField("Signed by (your name)", SIGNED_BY, walkdown, { autocomplete: "name" });
}

function standingPart(page, unit, walkdown) {
  const steps = stepsAsked(page, unit, walkdown);
  const left = steps.filter((step) => ["open", "typed"].includes(standing(walkdown, step)));
  const count = countStanding(page, unit, walkdown);
  const words = `${count.answered} answered, ${count["not seen"]} not seen, ${left.length} open.`;
  if (!left.length) return paragraph(words);
  return element("section", {}, paragraph(words),
    paragraph("What is open counts as not seen, never as good.", "quiet"),
    element("details", {
      open: page.openShown,
      ontoggle: (event) => { page.openShown = event.target.open; },
    }, element("summary", {}, `Show what is open (${left.length})`),
    element("ul", { class: "rows" }, left.map((step) => checkRow(page, unit, walkdown, step)))));
}

function verdictPart(page, said, holds) {
  const parts = [];
  if (page.data.mode !== "online") {
    parts.push(paragraph("The verdict comes when this walkdown is loaded.", "quiet"));
  } else if (said && said.waits) {
    parts.push(element("p", { role: "status" }, said.waits),
      button("Ask again", "ask-again", () => { page.verdict = null; page.draw(); }));
  } else if (!said) {
    parts.push(element("p", { role: "status" }, "Asking for the verdict …"));
  } else {
    parts.push(element("h2", {}, "Verdict"), element("p", { class: "verdict", role: "status" },
      `${VERDICT_MARKS[said.verdict] || ""} ${said.verdict_words || said.verdict || ""}`.trim()));
  }
  if (holds.length) parts.push(found("■ Hold", holds, "response hold"));
  if (said && (said.corrects || []).length) {
    parts.push(found("▲ Correct", said.corrects, "response"));
  }
  if (said && (said.not_seen || []).length) {
    const left = said.not_seen.map((one) => (typeof one === "string" ? { what: one } : one));
    parts.push(found("○ Not seen", left, "response"));
  }
  if (said && (said.faults || []).length) {
    parts.push(found("Please mend before signing",
      said.faults.map((fault) => ({ what: fault.words, field: fault.field })), "response hold",
      (fault) => page.unit.steps.some((step) => step.check === fault.field)
        && go(placeOf(page.unit.unit_id, "check", fault.field))));
  }
  return parts;
}

const VERDICT_MARKS = { hold: "■", correct: "▲", watch: "○", no_finding: "·" };

function found(heading, list, kind, jump = null) {
  return element("section", { class: kind }, element("strong", {}, heading),
    list.map((one, at) => element("div", {}, paragraph(sentence(one.what)),
      paragraph(sentence(one.do)),
      jump && one.field ? button("Go there", `fault=${at}`, () => jump(one)) : null)));
}

// Asked once per set of answers; drawn again when it is there.
async function askVerdict(page, walkdown) {
  const asked = JSON.stringify(Object.values(walkdown.answers).map((one) => [one.value, one.reason]));
  const waiting = walkdown.unsent > 0;
  const now = `${asked} ${waiting}`;
  if (page.verdictOf === now && page.verdict !== null) return;
  if (page.verdictOf === now && page.verdictAsked) return;
  page.verdictOf = now;
  page.verdict = waiting
    ? { waits: "Not everything is sent yet: the verdict comes when it is.", holds: [] } : null;
  if (waiting) return;
  page.verdictAsked = true;
  const { status, said } = await walkdown.verdict();
  page.verdictAsked = false;
  if (page.verdictOf !== now) return;
  page.verdict = status === 200 || said.faults ? said
    : { waits: said.words || "No connection: the verdict cannot be asked for now.", holds: [] };
  if (placeNow().screen === "end") drawScreen(page, false);
}
