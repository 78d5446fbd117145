// Answers on their way to the server. They lie in the browser until the server has them.
//
// A letter is {field, heading, value, reason, by, at, base_revision, client, number, refused, theirs}:
// `refused` are the server's words where it does not take the answer, `theirs` is somebody
// else's newer answer. Neither is sent again before the person has decided.

class Outbox {
  constructor(draft_id) {
    this.box = new Box("unsent", draft_id);
    this.next = Date.now();
  }

  all() {
    return this.box.all("answer").sort((one, other) => one.number - other.number);
  }

  ready() {
    return this.all().filter((letter) => !letter.refused && !letter.theirs);
  }

  get(name) {
    return this.box.read("answer", name);
  }

  put(letter) {
    this.next += 1;
    this.box.write({ ...letter, number: this.next }, "answer", letter.field);
  }

  mark(letter, changes) {
    const now = this.get(letter.field);
    if (now && now.number === letter.number) {
      this.box.write({ ...now, ...changes }, "answer", letter.field);
    }
  }

  // The server has it. A newer answer that was given meanwhile stays, and builds on this one.
  arrived(letter, revision) {
    const now = this.get(letter.field);
    if (!now) return;
    if (now.number === letter.number) this.drop(letter.field);
    else this.box.write({ ...now, base_revision: revision }, "answer", letter.field);
  }

  drop(name) {
    this.box.forget("answer", name);
  }
}
