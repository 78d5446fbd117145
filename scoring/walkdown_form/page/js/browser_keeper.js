// Keeps walkdowns in this browser, for the page that works without a network.
//
// Each answer lies under its own key, so that two windows of the same file never write over
// each other's answers. A keeper has `walkdown(unit)`, `stateLine()` and `onchange`; a walkdown
// has `answers`, `give`, `typed`, `type`, `photos`, `addPhoto`, `removePhoto`, `others`,
// `conflicts`, `finished`, `locked`. The server's keeper has the same.

class BrowserKeeper {
  constructor(route) {
    this.box = new Box("without a network", route);
    this.onchange = () => {};
    this.units = new Map();
    shelf.onelsewhere = () => {
      this.units.clear(); // another window wrote: read anew
      this.onchange();
    };
  }

  // The walkdown at hand of a unit: the last one that was begun.
  walkdown(unit) {
    if (!this.units.has(unit.unit_id)) {
      const begun = this.heads().filter((head) => head.unit_id === unit.unit_id);
      begun.sort((one, other) => (one.begun_at < other.begun_at ? -1 : 1));
      this.units.set(unit.unit_id, new BrowserWalkdown(this, begun.pop() || newHead(unit)));
    }
    return this.units.get(unit.unit_id);
  }

  beginAnother(unit) {
    const begun = new BrowserWalkdown(this, newHead(unit));
    begun.keepHead({});
    this.units.set(unit.unit_id, begun);
  }

  heads() {
    return this.box.all("walkdown");
  }

  answersOf(walkdown_id) {
    const answers = this.box.all("answer", walkdown_id);
    return Object.fromEntries(answers.map((answer) => [answer.field, answer]));
  }

  stateLine() {
    if (!shelf.keeps) {
      return { good: false, words: "NOT SAVED: this browser keeps nothing. Save a copy." };
    }
    if (shelf.pending) return { good: true, mark: "…", words: "saving" };
    if (shelf.lastSaved) return { good: true, words: `saved ${shortTime(shelf.lastSaved)}` };
    return { good: true, words: "kept on this device" };
  }
}

function newHead(unit) {
  return {
    walkdown_id: newKey(), unit_id: unit.unit_id, begun_at: new Date().toISOString(),
    recorded_at: "", finished: false, signed_by: "", signed_at: "", told: "",
  };
}

class BrowserWalkdown {
  constructor(keeper, head) {
    this.keeper = keeper;
    this.head = head;
    this.answers = keeper.answersOf(head.walkdown_id);
    this.kept_photos = [];
    this.others = [];
    this.conflicts = {};
    this.corrects = null;
    this.refused = {};
    photoBox.of(head.walkdown_id).then((photos) => {
      this.kept_photos.push(...photos);
      if (photos.length) keeper.onchange();
    });
  }

  get finished() { return this.head.finished; }
  get locked() { return this.head.finished ? "This walkdown is signed." : ""; }
  get unsent() { return 0; }

  keepHead(changes) {
    Object.assign(this.head, changes);
    this.keeper.box.write({ ...this.head }, "walkdown", this.head.unit_id, this.head.walkdown_id);
  }

  noteHead() {
    this.head.kept = true;
    this.keeper.box.note({ ...this.head }, "walkdown", this.head.unit_id, this.head.walkdown_id);
  }

  give(name, { heading, value, reason }) {
    const answer = { field: name, heading, value, reason };
    this.answers[name] = answer;
    this.type(name, null);
    this.keeper.box.write(answer, "answer", this.head.walkdown_id, name);
    this.keepHead({ recorded_at: localTime() });
    this.keeper.onchange();
  }

  typed(name) {
    return this.keeper.box.read("typed", this.head.walkdown_id, name);
  }

  type(name, text) {
    if (text === null) this.keeper.box.forget("typed", this.head.walkdown_id, name);
    else {
      if (!this.head.kept) this.noteHead(); // or nobody would find it again
      this.keeper.box.note(text, "typed", this.head.walkdown_id, name);
    }
  }

  photos(check) {
    return this.kept_photos.filter((photo) => photo.check === check);
  }

  async addPhoto(check, blob) {
    const photo = { id: randomLetters(20), home: this.head.walkdown_id, check, blob };
    this.kept_photos.push(photo);
    await photoBox.write(photo);
    this.keepHead({ recorded_at: localTime() });
    this.keeper.onchange();
  }

  async removePhoto(id) {
    this.kept_photos = this.kept_photos.filter((photo) => photo.id !== id);
    await photoBox.forget(id);
    this.keeper.onchange();
  }

  sign({ signed_by, told }) {
    this.keepHead({ finished: true, signed_by, told, signed_at: localTime() });
    this.keeper.onchange();
  }

  takeUpAgain() {
    this.keepHead({ finished: false, signed_by: "", signed_at: "" });
    this.keeper.onchange();
  }
}

// The plant's own time, then letters: of two walkdowns of one day the later key counts as the later.
function newKey() {
  const now = new Date();
  const digits = localTime(now).replace(/\D/g, "");
  return `W-${digits}${String(now.getMilliseconds()).padStart(3, "0")}-${randomLetters(10)}`;
}
