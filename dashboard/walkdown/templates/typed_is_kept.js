// The server has taken what was typed: the browser need not keep it any more.
(() => {
  try {
    localStorage.removeItem(`typed ${document.currentScript.dataset.keep}`);
  } catch {
    // a browser that keeps nothing
  }
})();
