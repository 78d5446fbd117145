// Without a network: the units of the route, how far each is, and the copy to take home.

function routeScreen(page) {
  const asked = page.searched || "";
  const rows = element("ul", { class: "rows" });
  const show = () => rows.replaceChildren(...unitRows(page, page.searched || ""));
  const search = field("Find a unit", "search", asked, (text) => {
    page.searched = text;
    show();
  }, { type: "search", enterkeyhint: "search" });
  show();
  return {
    title: page.data.route,
    body: [
      paragraph(
        "Answers are kept in this browser on this device only, until a copy is saved and loaded. "
        + "A private window forgets them when it is closed.", "quiet",
      ),
      page.form.units.length > 5 ? search : null,
      rows,
      copyPart(page),
    ],
    bar: [button("Save a copy", "save-copy", () => tellCopy(page), { class: "strong" })],
  };
}

function unitRows(page, text) {
  const wanted = text.trim().toLowerCase();
  const units = page.form.units.filter((unit) =>
    [unit.unit_id, unit.site, unit.line, unit.driven_equipment]
      .join(" ").toLowerCase().includes(wanted));
  if (!units.length) return [element("li", {}, paragraph("No unit of this route is so called."))];
  return units.map((unit) => element("li", {}, button([
    element("strong", {}, unit.unit_id),
    element("span", { class: "quiet" },
      [unit.driven_equipment, unit.line].filter(Boolean).join(", ")),
    element("span", { class: "far" }, howFar(page, unit)),
  ], `unit=${unit.unit_id}`, () => openUnit(page, unit), { class: "row" })));
}

function howFar(page, unit) {
  const walkdown = page.keeper.walkdown(unit);
  if (walkdown.finished) return `✓ signed ${shortTime(walkdown.head.signed_at)}`;
  if (missingAtStart(walkdown).length) return "not begun";
  const { open, typed, all } = countStanding(page, unit, walkdown);
  return `${all - open - typed} of ${all}`;
}

function openUnit(page, unit) {
  const walkdown = page.keeper.walkdown(unit);
  const begun = walkdown.finished || !missingAtStart(walkdown).length;
  const screen = walkdown.finished ? "end" : "list";
  go(placeOf(unit.unit_id, begun ? screen : "start"));
}

function copyPart(page) {
  const picked = element("input", {
    type: "file", accept: ".json,application/json", "data-key": "read-copy", class: "hidden-file",
    onchange: async (event) => {
      const [file] = event.target.files;
      if (!file) return;
      page.told = await readCopy(page, await file.text());
      page.draw();
    },
  });
  return element("section", {},
    element("p", { role: "status" }, page.told || ""),
    element("label", { class: "button" }, "Read a copy back", picked));
}

async function tellCopy(page) {
  page.told = await saveCopy(page);
  page.draw();
}
