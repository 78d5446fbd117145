// Answers on their way to the server. They lie in the browser until the server has them.
//
// A letter is {field, heading, value, reason, by, at, base_revision, number, refused, theirs}:
// `refused` are the server's words where it does not take the answer, `theirs` is somebody
// else's newer answer. Neither is sent again before the person has decided.

class Outbox {
  constructor(draft_id) {
    this.box = new Box(`unsent/${encodeURIComponent(draft_id)}`);
    this.next = Date.now();
  }

  all() {
    const letters = this.box.keys("answer/").map((parts) => this.box.read(Box.key(...parts)));
    return letters.filter(Boolean).sort((one, other) => one.number - other.number);
  }

  ready() {
    return this.all().filter((letter) => !letter.refused && !letter.theirs);
  }

  get(name) {
    return this.box.read(Box.key("answer", name));
  }

  put(letter) {
    this.next += 1;
    this.box.write(Box.key("answer", letter.field), { ...letter, number: this.next });
  }

  mark(letter, changes) {
    const now = this.get(letter.field);
    if (now && now.number === letter.number) {
      this.box.write(Box.key("answer", letter.field), { ...now, ...changes });
    }
  }

  // The server has it. A newer answer that was given meanwhile stays, and builds on this one.
  arrived(letter, revision) {
    const now = this.get(letter.field);
    if (!now) return;
    const key = Box.key("answer", letter.field);
    if (now.number === letter.number) this.box.forget(key);
    else this.box.write(key, { ...now, base_revision: revision });
  }

  drop(name) {
    this.box.forget(Box.key("answer", name));
  }
}
