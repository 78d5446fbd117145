// Draws the screen of the place one is at, and draws it anew when something changed.

async function startPage() {
  await shelf.open();
  const data = JSON.parse(document.getElementById("data").textContent);
  speak(data.words);
  const online = data.mode === "online";
  if (online && data.draft.person) person.remember({ name: data.draft.person });
  for (const unit of data.form.units) unit.steps = unit.steps.map((at) => data.form.steps[at]);
  const page = {
    data,
    form: data.form,
    keeper: online ? new ServerKeeper(data.draft, data.api) : new BrowserKeeper(data.route),
    unit: null,
    beforeLeaving: null,
    byKeys: false,
    undo: null,
    verdict: null,
    pictures: new Map(),
    stateElement: element("p", { class: "state", "aria-live": "polite" }),
    nameElement: element("strong", {}),
    noticeElement: element("div", { class: "notices" }),
    main: element("main", { id: "main" }),
    bar: element("nav", { class: "bar", "aria-label": "Steps" }),
    spoken: element("p", { class: "spoken", role: "alert" }),
  };
  page.say = (words) => { page.spoken.textContent = told(words); };
  page.draw = () => {
    page.say("");
    drawScreen(page, false);
  };
  page.open = () => drawScreen(page, true);
  page.keeper.onchange = () => changed(page);
  shelf.onchange = () => stateLine(page, page.unit ? page.walkdown : null);
  document.body.replaceChildren(
    element("header", {},
      element("div", { class: "top" }, page.nameElement, page.stateElement)),
    page.noticeElement, page.main, element("footer", {}, page.spoken, page.bar),
  );
  window.addEventListener("hashchange", page.open);
  holdWhilePressed(page);
  noteHowOneGoesOn(page);
  document.addEventListener("visibilitychange", () => {
    // a phone put away: what is typed is taken as if the field had been left
    if (document.visibilityState === "hidden" && document.activeElement) {
      document.activeElement.blur();
    }
  });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", page.draw);
  page.open();
}

function screenAt(page, place) {
  const { units } = page.form;
  const unit = units.find((one) => one.unit_id === place.unit_id)
    || (page.data.mode === "online" ? units[0] : null);
  page.unit = unit || null;
  if (!unit) return routeScreen(page);
  const walkdown = page.keeper.walkdown(unit);
  page.walkdown = walkdown;
  if (walkdown.locked && place.screen !== "conflict") {
    return walkdown.finished ? doneScreen(page, unit, walkdown) : closedScreen(page, walkdown);
  }
  const step = unit.steps.find((one) => one.check === place.check);
  const begun = !missingAtStart(walkdown).length;
  if (place.screen === "check" && step && begun) return checkScreen(page, unit, walkdown, step);
  if (place.screen === "list" && begun) return listScreen(page, unit, walkdown);
  if (place.screen === "end" && begun) return endScreen(page, unit, walkdown);
  if (place.screen === "conflict") return conflictScreen(page, unit, walkdown);
  return startScreen(page, unit, walkdown);
}

function closedScreen(page, walkdown) {
  const lost = walkdown.unsent;
  return {
    title: "No longer open",
    body: [
      paragraph(walkdown.locked),
      lost ? paragraph(`${counted(lost, "answer")} of this device did not get there and `
        + `${lost === 1 ? "is" : "are"} still kept here.`, "response hold") : null,
    ],
    bar: [],
  };
}

// A button must not be drawn anew between being pressed and let go, or the tap would be lost.
function holdWhilePressed(page) {
  const letGo = () => {
    page.pressed = false;
    if (page.due) drawScreen(page, false);
  };
  window.addEventListener("mousedown", () => { page.pressed = true; }, true);
  window.addEventListener("click", () => { page.pressed = false; }, true);
  window.addEventListener("click", letGo); // after the button's own work
  for (const name of ["mouseup", "dragend", "blur"]) {
    window.addEventListener(name, () => setTimeout(letGo), true); // where no click follows
  }
}

// A field that is left tells of its change before the next one has the focus, which would be lost.
function drawOnceLeft(page) {
  setTimeout(() => {
    drawScreen(page, false);
    showResponse();
  });
}

function drawScreen(page, isNew) {
  page.due = page.pressed && !isNew;
  if (page.due) return;
  if (!isNew && window.event && window.event.type === "change") return drawOnceLeft(page);
  const before = document.activeElement;
  const focused = before && before.dataset ? before.dataset.key : null;
  page.beforeLeaving = null;
  if (isNew) {
    page.say("");
    page.large = false;
  }
  const { title, above, beside, picture, body, bar } = screenAt(page, placeNow());
  const heading = element("h1", { tabindex: "-1", "data-key": "heading" }, title);
  page.main.replaceChildren(...[
    above || beside ? element("div", { class: "over" }, element("span", {}, above || ""),
      element("span", {}, beside || "")) : null,
    picture, heading, ...body.flat(),
  ].filter(Boolean));
  page.bar.replaceChildren(...bar.filter(Boolean));
  page.nameElement.textContent = page.unit ? page.unit.unit_id : told("Route");
  document.title = page.unit ? `${page.unit.unit_id}: ${told(title)}` : told(title);
  stateLine(page, page.unit ? page.walkdown : null);
  if (isNew) {
    window.scrollTo(0, 0);
    whereToBegin(page, heading).focus({ preventScroll: true });
  } else if (focused) {
    const again = document.querySelector(`[data-key="${CSS.escape(focused)}"]`);
    if (again) again.focus({ preventScroll: true });
    if (again && before.value && again.value === before.value && before.selectionStart !== null) {
      again.setSelectionRange(before.selectionStart, before.selectionEnd);
    }
  }
}

// Who goes on by keys goes on with the answer; who taps is read the heading, and sees no key pad.
function whereToBegin(page, heading) {
  if (!page.byKeys || placeNow().screen !== "check") return heading;
  const answers = [...page.main.querySelectorAll('[data-key="answer"], [data-key^="answer="]')];
  return answers.find((one) => one.getAttribute("aria-pressed") === "true") || answers[0] || heading;
}

function noteHowOneGoesOn(page) {
  window.addEventListener("keydown", (event) => {
    page.byKeys = true;
    goOnFromAnswer(event);
  }, true);
  window.addEventListener("pointerdown", () => { page.byKeys = false; }, true);
}

// Enter on the answer that is given already goes on, so that nobody tabs through all the rest.
function goOnFromAnswer(event) {
  const at = event.target;
  const isGivenAnswer = event.key === "Enter" && !event.repeat && at.dataset
    && /^answer=/.test(at.dataset.key || "") && at.getAttribute("aria-pressed") === "true";
  const next = isGivenAnswer ? document.querySelector('.bar [data-key="next"]') : null;
  if (!next) return;
  event.preventDefault();
  next.click();
}

// The keeper has news. Nobody who is typing is disturbed: then only the state line changes.
function changed(page) {
  stateLine(page, page.unit ? page.walkdown : null);
  const at = document.activeElement;
  const typing = at && ["INPUT", "TEXTAREA"].includes(at.tagName) && at.type !== "file";
  if (!typing) drawScreen(page, false);
}

startPage();
