// Where one is, kept in the address after the #, so that the browser's own Back works.

function placeOf(unit_id, screen, check = "") {
  return `#/${[unit_id, screen, check].filter(Boolean).map(encodeURIComponent).join("/")}`;
}

function placeNow() {
  try {
    const [unit_id = "", screen = "", check = ""] = location.hash
      .replace(/^#\/?/, "").split("/").map(decodeURIComponent);
    return { unit_id, screen, check };
  } catch {
    return { unit_id: "", screen: "", check: "" }; // an address cut short somewhere
  }
}

function go(place) {
  if (location.hash === place) window.dispatchEvent(new HashChangeEvent("hashchange"));
  else location.hash = place;
}
