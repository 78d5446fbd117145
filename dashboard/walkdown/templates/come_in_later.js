// Asks again for what is still being worked out and puts it in place; what has the focus keeps it.
(() => {
  const EVERY_MS = 3000;
  const isWhole = (page) => !page.querySelector("[data-being-made]");
  if (isWhole(document)) return;
  const sameIn = (part, held) => {
    const unit = held.form?.elements.unit?.value;
    const address = held.getAttribute("href") || (unit && `/walkdown/new?${new URLSearchParams({ unit })}`);
    const buttons = [...part.querySelectorAll("button")].filter((one) => one.form);
    return (
      (unit && buttons.find((one) => one.form.elements.unit?.value === unit)) ||
      [...part.querySelectorAll("a")].find((one) => one.getAttribute("href") === address) ||
      part.querySelector(held.tagName.toLowerCase())
    );
  };
  const putInPlace = (page) => {
    for (const part of document.querySelectorAll("[data-part]")) {
      const come = page.querySelector(`[data-part="${part.dataset.part}"]`);
      if (!come || come.innerHTML === part.innerHTML) continue;
      const held = part.contains(document.activeElement) ? document.activeElement : null;
      part.innerHTML = come.innerHTML;
      if (held) sameIn(part, held)?.focus({ preventScroll: true });
    }
  };
  const ask = async () => {
    try {
      const answer = await fetch(location.href);
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (answer.ok && page.querySelector("[data-part]")) {
        putInPlace(page);
        if (isWhole(page)) return;
      }
    } catch {
      // no network for the moment
    }
    setTimeout(ask, EVERY_MS);
  };
  setTimeout(ask, EVERY_MS);
})();
