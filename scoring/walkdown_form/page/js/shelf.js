// What this browser keeps, at hand in memory. Written to its small store at once and to its
// database; "saved" is said once one of them has confirmed it.

const SHELF_PREFIX = "walkdown form/";
const SWEPT_AFTER_MS = 30 * 24 * 3600 * 1000;

class Shelf {
  constructor(database) {
    this.database = database;
    this.memory = new Map(); // key: {value, at}; a value of null was taken away
    this.pending = 0;
    this.unkept = new Set(); // written, and kept nowhere
    this.lastSaved = null;
    this.clock = 0;
    this.onchange = () => {};
    this.onelsewhere = () => {};
    this.smallStore = Shelf.smallStoreWorks();
    this.databaseWorks = false;
    window.addEventListener("storage", (event) => this.#fromOtherWindow(event));
  }

  // Some browsers refuse, some forget at once: written, read back and taken out again.
  static smallStoreWorks() {
    try {
      const probe = `${SHELF_PREFIX}probe/${Math.random()}`;
      localStorage.setItem(probe, "kept");
      const kept = localStorage.getItem(probe) === "kept";
      localStorage.removeItem(probe);
      return kept;
    } catch {
      return false;
    }
  }

  get keeps() { return (this.smallStore || this.databaseWorks) && this.unkept.size === 0; }

  // Of two writings of one key the later counts, wherever it lies.
  async open() {
    const kept = await this.database.work("kept", "readonly", (store) => store.getAll());
    this.databaseWorks = kept !== null;
    for (const { key, value, at } of kept ? kept.result : []) this.#learn(key, { value, at });
    for (const name of this.smallStore ? Object.keys(localStorage) : []) {
      if (!name.startsWith(SHELF_PREFIX)) continue;
      this.#learn(name.slice(SHELF_PREFIX.length), Shelf.parsed(localStorage.getItem(name)));
    }
    this.#sweep();
  }

  // What was taken away long ago need not be remembered as such.
  #sweep() {
    for (const [key, { value, at }] of this.memory) {
      if (value !== null || at > Date.now() - SWEPT_AFTER_MS) continue;
      this.memory.delete(key);
      if (this.smallStore) localStorage.removeItem(SHELF_PREFIX + key);
      this.database.work("kept", "readwrite", (store) => store.delete(key));
    }
  }

  static parsed(text) {
    try {
      const found = JSON.parse(text);
      return found && typeof found.at === "number" ? found : null;
    } catch {
      return null;
    }
  }

  #learn(key, found) {
    const known = this.memory.get(key);
    if (!found || (known && known.at >= found.at)) return;
    this.memory.set(key, found);
    this.clock = Math.max(this.clock, found.at);
  }

  #fromOtherWindow(event) {
    if (event.key === null || !event.key.startsWith(SHELF_PREFIX)) return;
    if (event.newValue === null) return;
    this.#learn(event.key.slice(SHELF_PREFIX.length), Shelf.parsed(event.newValue));
    this.onelsewhere();
  }

  read(key) {
    const found = this.memory.get(key);
    return found ? found.value : null;
  }

  // A note, such as what is typed and not answered yet, is kept but never said to be saved.
  write(key, value, isNote = false) {
    this.clock = Math.max(Date.now(), this.clock + 1);
    const written = { value, at: this.clock };
    this.memory.set(key, written);
    this.pending += 1;
    this.#keep(key, written).then((kept) => {
      this.pending -= 1;
      if (kept) this.unkept.delete(key);
      else this.unkept.add(key);
      if (kept && !isNote) this.lastSaved = localTime();
      this.onchange();
    });
  }

  async #keep(key, written) {
    let small = false;
    try {
      const text = JSON.stringify(written);
      localStorage.setItem(SHELF_PREFIX + key, text);
      small = localStorage.getItem(SHELF_PREFIX + key) === text;
    } catch {
      // full or refused: the database may still take it
    }
    const large = await this.database.work("kept", "readwrite",
      (store) => store.put({ key, ...written }));
    return small || large !== null;
  }

  keys(start) {
    return [...this.memory].filter(([key, { value }]) => value !== null && key.startsWith(start))
      .map(([key]) => key);
  }
}

const database = new Database();
const shelf = new Shelf(database);
