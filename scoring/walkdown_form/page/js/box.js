// A part of the browser's own store. It says of each thing whether it is really kept.

class Box {
  constructor(name) {
    this.prefix = `walkdown form/${name}/`;
    this.memory = new Map();
    this.keeps = Box.works();
  }

  // Some browsers refuse, some forget at once: written, read back and taken out again.
  static works() {
    try {
      const probe = `walkdown form/probe/${Math.random()}`;
      localStorage.setItem(probe, "kept");
      const kept = localStorage.getItem(probe) === "kept";
      localStorage.removeItem(probe);
      return kept;
    } catch {
      return false;
    }
  }

  static key(...parts) {
    return parts.map(encodeURIComponent).join("/");
  }

  read(key) {
    if (this.memory.has(key)) return this.memory.get(key);
    try {
      const text = localStorage.getItem(this.prefix + key);
      return text === null ? null : JSON.parse(text);
    } catch {
      return null;
    }
  }

  // True only if it is kept when the page is closed.
  write(key, value) {
    const text = JSON.stringify(value);
    try {
      localStorage.setItem(this.prefix + key, text);
      this.keeps = localStorage.getItem(this.prefix + key) === text;
    } catch {
      this.keeps = false;
    }
    if (this.keeps) this.memory.delete(key);
    else this.memory.set(key, value);
    return this.keeps;
  }

  forget(key) {
    this.memory.delete(key);
    try {
      localStorage.removeItem(this.prefix + key);
    } catch {
      // what was never kept needs no forgetting
    }
  }

  // The keys that begin with `start`, each split into its parts.
  keys(start) {
    const found = new Set([...this.memory.keys()].filter((key) => key.startsWith(start)));
    try {
      for (const key of Object.keys(localStorage)) {
        const own = key.startsWith(this.prefix) ? key.slice(this.prefix.length) : "";
        if (own.startsWith(start)) found.add(own);
      }
    } catch {
      // nothing is kept, so there is only the memory
    }
    return [...found].map((key) => key.split("/").map(decodeURIComponent));
  }
}

// Who holds the device: asked once, and kept for the next walkdown.
const person = {
  box: new Box("person"),
  read() {
    return this.box.read("person") || { name: "", measure: "" };
  },
  remember(changes) {
    this.box.write("person", { ...this.read(), ...changes });
  },
};

const LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"; // 32, so that no letter is likelier

function randomLetters(count) {
  const bytes = crypto.getRandomValues(new Uint8Array(count));
  return [...bytes].map((byte) => LETTERS[byte % LETTERS.length]).join("");
}
