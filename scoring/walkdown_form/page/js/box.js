// A part of the shelf under a name of its own; its keys are made of parts.

class Box {
  constructor(...names) {
    this.prefix = `${Box.key(...names)}/`;
  }

  static key(...parts) {
    return parts.map(encodeURIComponent).join("/");
  }

  read(...parts) {
    return shelf.read(this.prefix + Box.key(...parts));
  }

  write(value, ...parts) {
    shelf.write(this.prefix + Box.key(...parts), value);
  }

  note(value, ...parts) {
    shelf.write(this.prefix + Box.key(...parts), value, true);
  }

  forget(...parts) {
    if (this.read(...parts) !== null) this.note(null, ...parts);
  }

  // Each key that begins with these parts, split into its own.
  keys(...parts) {
    const start = `${this.prefix}${Box.key(...parts)}/`;
    return shelf.keys(start).map(
      (key) => key.slice(this.prefix.length).split("/").map(decodeURIComponent),
    );
  }

  all(...parts) {
    return this.keys(...parts).map((key) => this.read(...key));
  }
}

// Who holds the device: asked once, and kept for the next walkdown.
const person = {
  box: new Box("person"),
  read() {
    return this.box.read("known") || { name: "", measure: "" };
  },
  remember(changes) {
    this.box.note({ ...this.read(), ...changes }, "known");
  },
};

const LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"; // 32, so that no letter is likelier

function randomLetters(count) {
  const bytes = crypto.getRandomValues(new Uint8Array(count));
  return [...bytes].map((byte) => LETTERS[byte % LETTERS.length]).join("");
}
