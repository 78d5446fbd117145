// Keeps what is typed into a form in the browser until the server has taken it.
(() => {
  const form = document.querySelector("form[data-keep]");
  if (!form) return;
  const place = `typed ${form.dataset.keep}`;
  const fields = () => [...form.elements].filter((field) => field.name && field.type !== "hidden");
  const read = () => {
    try {
      return JSON.parse(localStorage.getItem(place));
    } catch {
      return null; // a browser that keeps nothing, or something that is not ours
    }
  };
  const kept = read();
  if (kept && !form.querySelector(".note")) {
    for (const field of fields()) {
      const values = kept[field.name];
      if (!values) continue;
      if (field.type === "checkbox" || field.type === "radio") {
        field.checked = values.includes(field.value);
      } else {
        field.value = values[0];
      }
    }
    const key = form.querySelector("input[name=key]");
    if (key && kept.key) key.value = kept.key[0];
  }
  form.addEventListener("input", () => {
    const typed = {};
    for (const [name, value] of new FormData(form)) (typed[name] ??= []).push(value);
    try {
      localStorage.setItem(place, JSON.stringify(typed));
    } catch {
      // nothing is kept then; the server still is asked
    }
  });
})();
