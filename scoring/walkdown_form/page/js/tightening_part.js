// Torque of each pass and order of the screws. The final torque is the unit's own manual's:
// from the records, or typed here. The page supplies none.

const MANUAL = "final torque of the manual";

function tighteningPart(page, unit, walkdown) {
  const { final_torque_nm: recorded, passes, shares, order, order_words: words, order_help: help, note } = unit.tightening;
  const entries = page.form.torque_entries || [
    { unit: "N·m", measure: "metric" }, { unit: "lbf·ft", measure: "inch" },
  ];
  const measure = answerTo(walkdown, "units_of_measure").value;
  const unitWords = (entries.find((one) => one.measure === measure) || entries[0]).unit;
  const rows = element("ol", { class: "passes" });
  const typed = walkdown.typed(MANUAL);
  const show = (final, named) => rows.replaceChildren(...shares.map((share, at) => element("li", {},
    element("span", {}, `Pass ${at + 1} of ${passes}`),
    element("strong", {}, final ? `${plainTorque(final * share)} ${named}` : "—"),
    element("span", { class: "quiet" }, `${Math.round(share * 100)} %`))));
  const showTyped = (text) => {
    const read = readNumber(text, { whole: false, fractions: false });
    show(read.number > 0 ? read.number : null, unitWords);
  };
  const asks = typeof recorded !== "number";
  if (asks) showTyped(typed ? typed.text : "");
  else show(recorded, "N·m");
  const inside = [
    asks ? field(`Final torque in the unit's own manual, ${unitWords}`, MANUAL,
      typed ? typed.text : "", (text) => {
        walkdown.type(MANUAL, { text });
        showTyped(text);
      }, { inputmode: "decimal", enterkeyhint: "done" })
      : paragraph(`Final torque ${plainTorque(recorded)} N·m, from the unit's record; `
        + "check it with the unit's own manual."),
    rows,
    paragraph(`Order: ${words}, ${help}.`),
    order ? element("p", { class: "order" }, order.join(" – ")) : null,
    paragraph(note, "quiet"),
  ];
  return element("details", {
    open: page.tighteningOpen !== false,
    ontoggle: (event) => { page.tighteningOpen = event.target.open; },
  }, element("summary", {}, "Torque of each pass, order of the screws"), inside);
}

// Three figures are as fine as a torque wrench.
function plainTorque(value) {
  return String(Number(value.toPrecision(3)));
}
