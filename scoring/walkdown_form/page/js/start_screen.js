// Before the first check: why, in which state, on which day, and who looks.

function startScreen(page, unit, walkdown) {
  const known = person.read();
  const begun = page.data.draft || {}; // online: who began it, in whose units of measure
  begin(walkdown, "inspected_on", dayOf(new Date()));
  begin(walkdown, "units_of_measure", known.measure || begun.measures || page.form.measures[0].value);
  const signedIn = begun.signed_in || "";
  begin(walkdown, "inspector", signedIn || known.name || begun.started_by);
  const given = (name) => answerTo(walkdown, name).value;
  const measure = walkdown.typed("units_of_measure");
  const keep = (name) => (one) => {
    giveWord(walkdown, name, one.value);
    if (name === "units_of_measure") person.remember({ measure: one.value });
    page.draw();
  };
  return {
    title: "Before the first check",
    body: [
      paragraph([unit.driven_equipment, unit.line, unit.site].filter(Boolean).join(", "), "quiet"),
      paragraph(unit.mounting_words),
      cautions(page),
      ...HEAD_FIELDS.map((name) => refusalOf(walkdown, name)),
      element("h2", {}, "Who, and when?"),
      signedIn ? null : ownField("Your name", "inspector", walkdown,
        (text) => person.remember({ name: text }),
        { autocomplete: "name", enterkeyhint: "done", maxlength: 120 }),
      ownField("Day", "inspected_on", walkdown, () => {},
        { type: "date", max: dayOf(new Date()) }),
      element("h2", {}, "Why do you look at it?"),
      choices("Why do you look at it?", "kind", asSentences(page.form.kinds), given("kind"), keep("kind")),
      element("h2", {}, "How is the machine?"),
      choices("How is the machine?", "machine_state", asSentences(page.form.states),
        given("machine_state"), keep("machine_state")),
      element("h2", {}, "Units of measure"),
      choices("Units of measure", "units_of_measure", page.form.measures,
        measure ? measure.text : given("units_of_measure"), keep("units_of_measure"), "choices beside"),
    ],
    bar: [
      page.data.mode === "online" ? null : button("Route", "to-route", () => go("#/")),
      button("Begin", "begin", () => beginWalk(page, unit, walkdown), { class: "strong" }),
    ],
  };
}

function asSentences(offered) {
  return offered.map((one) => ({ ...one, words: sentence(one.words) }));
}

function cautions(page) {
  const who = page.data.draft ? page.data.draft.who : "";
  return element("div", { class: "cautions" },
    element("p", {}, page.form.cautions), who ? element("p", {}, who) : null);
}

function giveWord(walkdown, name, value) {
  if (answerTo(walkdown, name).value === value) return;
  walkdown.give(name, { heading: name, value, reason: "" });
}

// What is proposed is only kept once the person begins: nothing is answered by opening a page.
function begin(walkdown, name, proposed) {
  const nothing = answerTo(walkdown, name).value === "" && walkdown.typed(name) === null;
  if (nothing && proposed) walkdown.type(name, { text: proposed });
}

// A field of words: kept as typed at every letter, given as an answer when it is left.
function ownField(words, name, walkdown, onkept, about = {}) {
  const typed = walkdown.typed(name);
  const take = (text) => {
    const value = plainText(text).trim();
    if (value === answerTo(walkdown, name).value) return walkdown.type(name, null);
    onkept(value);
    return giveWord(walkdown, name, value);
  };
  return field(words, name, typed ? typed.text : answerTo(walkdown, name).value,
    (text) => walkdown.type(name, { text }),
    { onchange: (event) => take(event.target.value), ...about });
}

function beginWalk(page, unit, walkdown) {
  for (const name of ["inspector", "inspected_on", "units_of_measure"]) {
    const typed = walkdown.typed(name);
    if (typed) giveWord(walkdown, name, typed.text.trim());
  }
  const missing = missingAtStart(walkdown);
  const late = answerTo(walkdown, "inspected_on").value > dayOf(new Date());
  if (missing.length || late) {
    page.say(late ? "The day lies ahead: write the day of the walkdown."
      : `Still to be said: ${missing.join(", ")}.`);
    return;
  }
  const { inspector, units_of_measure } = walkdown.answers;
  const signedIn = page.data.draft ? page.data.draft.signed_in : "";
  person.remember({ ...(signedIn ? {} : { name: inspector.value }), measure: units_of_measure.value });
  const steps = stepsAsked(page, unit, walkdown);
  const first = steps.find((step) => standing(walkdown, step) === "open") || steps[0];
  go(first ? placeOf(unit.unit_id, "check", first.check) : placeOf(unit.unit_id, "end"));
}
