// Elements of the page, made so that a name can only ever be text.

const SPOKEN = ["aria-label", "title", "alt", "placeholder"];

function element(tag, about = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(about)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (SPOKEN.includes(name)) made.setAttribute(name, told(String(value)));
    else made.setAttribute(name, value === true ? "" : String(value));
  }
  const shown = inside.flat().filter((one) => one !== null && one !== undefined && one !== "");
  made.append(...shown.map((one) => (typeof one === "string" ? told(one) : one)));
  return made;
}

// Large enough for a glove; `key` finds it again after the screen was drawn anew.
function button(words, key, onclick, about = {}) {
  return element("button", { type: "button", "data-key": key, onclick, ...about }, words);
}

// As a sentence begins: the contract's words are written small.
function sentence(words) {
  return words ? words[0].toUpperCase() + words.slice(1) : "";
}

function paragraph(words, kind = null) {
  return words ? element("p", { class: kind }, words) : null;
}

const NOT_TYPED = /[\u0000-\u0008\u000b-\u001f\u007f\ud800-\udfff]/gu;

// What a keyboard types; other letters come in by pasting, and no table takes them.
function plainText(text) {
  return text.replace(NOT_TYPED, "");
}

// A field under its own words; what is typed is handed on at every letter.
function field(words, key, value, oninput, about = {}) {
  const made = element(about.rows ? "textarea" : "input", {
    "data-key": key, autocomplete: "off", ...about,
    oninput: (event) => oninput(plainText(event.target.value)),
  });
  made.value = value;
  return element("label", { class: "field" }, element("span", {}, words), made);
}

// Buttons of which one is taken, or several: a mark says so as well as the colour.
function choices(words, key, offered, taken, onpick, kind = "choices") {
  const buttons = offered.map((one) =>
    button(
      [
        element("span", { class: "mark", "aria-hidden": "true" }),
        element("span", {}, one.words, one.help ? element("small", {}, one.help) : ""),
      ],
      `${key}=${one.value}`,
      () => onpick(one),
      { class: "choice", "aria-pressed": [taken].flat().includes(one.value) ? "true" : "false" },
    ));
  return element("div", { class: kind, role: "group", "aria-label": words }, buttons);
}
