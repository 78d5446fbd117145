// Sends what waits, one after the other, and tries again: soon at first, then less often.

const FIRST_WAIT_MS = 2000;
const LONGEST_WAIT_MS = 60000;

class Sending {
  // `sendOne` resolves to true if one may go on with the next.
  constructor(waiting, sendOne, onchange) {
    this.waiting = waiting;
    this.sendOne = sendOne;
    this.onchange = onchange;
    this.wait = FIRST_WAIT_MS;
    this.failed = false;
    this.running = null;
    this.timer = null;
    window.addEventListener("online", () => this.now());
    document.addEventListener("visibilitychange", () => this.now());
  }

  now() {
    clearTimeout(this.timer);
    if (!this.running) {
      this.running = this.#sendAll().finally(() => { this.running = null; });
    }
    return this.running;
  }

  async #sendAll() {
    for (;;) {
      const [next] = this.waiting();
      if (!next) {
        this.#went(true);
        return true;
      }
      const on = await this.sendOne(next);
      this.#went(on);
      if (on) continue;
      this.timer = setTimeout(() => this.now(), this.wait * (0.8 + 0.4 * Math.random()));
      this.wait = Math.min(LONGEST_WAIT_MS, this.wait * 2);
      return false;
    }
  }

  #went(on) {
    this.failed = !on;
    if (on) this.wait = FIRST_WAIT_MS;
    this.onchange();
  }
}
