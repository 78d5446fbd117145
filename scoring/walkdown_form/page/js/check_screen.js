// One check: where it is, how one looks, what good is, and the answer.

function checkScreen(page, unit, walkdown, step) {
  const steps = stepsAsked(page, unit, walkdown);
  const place = steps.indexOf(step);
  const later = steps[place + 1];
  const earlier = steps[place - 1];
  const to = (one, otherwise) => () => leaveCheck(page, () =>
    go(one ? placeOf(unit.unit_id, "check", one.check) : placeOf(unit.unit_id, otherwise)));
  const entry = step.kind === "choice" || step.options.length
    ? choiceAnswer(page, walkdown, step) : numberAnswer(page, walkdown, step, to(later, "end"));
  return {
    title: sentence(step.label),
    above: `${step.station} · ${step.station_words}`,
    beside: `${place + 1} of ${steps.length}`,
    picture: pictureOf(page, step),
    body: [
      paragraph(sentence(step.how_to_look)),
      step.good
        ? element("p", { class: "good" }, element("span", {}, "Good: "), goodWords(walkdown, step))
        : null,
      paragraph(besideGood(step), "quiet small"),
      conflictOf(page, walkdown, step.check),
      refusalOf(walkdown, step.check),
      ...entry,
      ...detailsOf(page, walkdown, step),
      notSeen(page, walkdown, step),
      undoButton(page, walkdown),
      photosOfCheck(page, walkdown, step),
      step.tightening && unit.tightening ? tighteningPart(page, unit, walkdown) : null,
    ],
    bar: [
      button("Back", "back", to(earlier, "start")),
      button("All", "to-list", () => leaveCheck(page, () => go(placeOf(unit.unit_id, "list"))),
        { "aria-label": "All checks" }),
      button(later ? "Next" : "To the end", "next", to(later, "end"), { class: "strong" }),
    ],
  };
}

// What good is, with the unit's own limit where there is one.
function goodWords(walkdown, step) {
  if (!step.usual || !step.entries.length) return step.good;
  return `${step.good}; here ${rangeWords(step.usual, entryOf(walkdown, step, ""))}`;
}

// Where that limit comes from, and the size it goes by.
function besideGood(step) {
  const origin = step.usual && step.usual.origin ? `Limit: ${step.usual.origin}` : "";
  return [sentence(step.nominal), origin].filter(Boolean).join(". ");
}

// A number that waits for a yes is asked about before one goes on.
function leaveCheck(page, goOn) {
  if (page.beforeLeaving && !page.beforeLeaving()) return;
  goOn();
}

function pictureOf(page, step) {
  const picture = page.form.pictures[step.picture];
  if (!picture) return null;
  const image = element("img", { src: pictureAddress(page, step.picture), alt: picture.words });
  return button(image, "picture", () => {
    page.large = !page.large;
    page.draw();
  }, { class: page.large ? "picture large" : "picture", "aria-label": picture.words,
    "aria-pressed": page.large ? "true" : "false" });
}

// In the dark, a picture is drawn in the colours of the dark.
function pictureAddress(page, name) {
  const isDark = matchMedia("(prefers-color-scheme: dark)").matches;
  const key = `${isDark ? "dark" : "light"} ${name}`;
  if (!page.pictures.has(key)) {
    const { light, dark } = page.form.picture_colours;
    const darker = new Map(Object.keys(light).map((part) => [light[part], dark[part]]));
    darker.set(light.paper, getComputedStyle(document.body).getPropertyValue("--ground").trim());
    const svg = page.form.pictures[name].svg.replace(/#[0-9a-f]{6}\b/gi,
      (colour) => (isDark && darker.get(colour)) || colour);
    page.pictures.set(key, `data:image/svg+xml,${encodeURIComponent(svg)}`);
  }
  return page.pictures.get(key);
}

function refusalOf(walkdown, name) {
  const words = walkdown.refused[name];
  return words ? element("p", { class: "response hold", role: "alert" },
    `Not saved: ${words}`) : null;
}
