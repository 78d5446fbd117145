// Keeps walkdowns in this browser, for the page that works without a network.
//
// Each answer lies under its own key, so that two windows of the same file never write over
// each other's answers. A keeper has `walkdown(unit)`, `stateLine()` and `onchange`; a walkdown
// has `answers`, `give`, `typed`, `type`, `photos`, `addPhoto`, `removePhoto`, `others`,
// `conflicts`, `finished`, `locked`. The server's keeper has the same.

class BrowserKeeper {
  constructor(route) {
    this.box = new Box(`without a network/${encodeURIComponent(route)}`);
    this.photoBox = new PhotoBox();
    this.onchange = () => {};
    this.lastSaved = null;
    this.writtenYet = false;
    this.units = new Map();
    window.addEventListener("storage", (event) => {
      if (event.key && !event.key.startsWith(this.box.prefix)) return;
      this.units.clear(); // another window wrote: read anew
      this.onchange();
    });
  }

  write(key, value) {
    this.writtenYet = true;
    if (this.box.write(key, value)) this.lastSaved = localTime();
    return this.box.keeps;
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
    return this.box.keys("walkdown/").map((parts) => this.box.read(Box.key(...parts)));
  }

  answersOf(walkdown_id) {
    const found = {};
    for (const parts of this.box.keys(Box.key("answer", walkdown_id) + "/")) {
      found[parts[2]] = this.box.read(Box.key(...parts));
    }
    return found;
  }

  stateLine() {
    if (!this.box.keeps || !this.photoBox.keeps) {
      return { good: false, words: "NOT SAVED: this browser keeps nothing. Save a copy." };
    }
    if (this.lastSaved) return { good: true, words: `saved ${shortTime(this.lastSaved)}` };
    return { good: true, words: "kept on this device" };
  }
}

function newHead(unit) {
  return {
    walkdown_id: `W-${randomLetters(20)}`, unit_id: unit.unit_id, begun_at: new Date().toISOString(),
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
    keeper.photoBox.of(head.walkdown_id).then((photos) => {
      this.kept_photos.push(...photos);
      if (photos.length) keeper.onchange();
    });
  }

  get finished() { return this.head.finished; }
  get locked() { return this.head.finished ? "This walkdown is signed." : ""; }
  get unsent() { return 0; }

  keepHead(changes) {
    Object.assign(this.head, changes);
    return this.keeper.write(
      Box.key("walkdown", this.head.unit_id, this.head.walkdown_id), this.head,
    );
  }

  give(name, { heading, value, reason }) {
    const answer = { field: name, heading, value, reason };
    this.answers[name] = answer;
    this.type(name, null);
    this.keepHead({ recorded_at: localTime() });
    this.keeper.write(Box.key("answer", this.head.walkdown_id, name), answer);
    this.keeper.onchange();
  }

  typed(name) {
    return this.keeper.box.read(Box.key("typed", this.head.walkdown_id, name));
  }

  type(name, text) {
    const key = Box.key("typed", this.head.walkdown_id, name);
    if (text === null) this.keeper.box.forget(key);
    else this.keeper.box.write(key, text);
  }

  photos(check) {
    return this.kept_photos.filter((photo) => photo.check === check);
  }

  async addPhoto(check, blob) {
    const photo = { id: randomLetters(20), home: this.head.walkdown_id, check, blob };
    this.kept_photos.push(photo);
    if (await this.keeper.photoBox.write(photo)) this.keeper.lastSaved = localTime();
    this.keepHead({ recorded_at: localTime() });
    this.keeper.onchange();
  }

  async removePhoto(id) {
    this.kept_photos = this.kept_photos.filter((photo) => photo.id !== id);
    await this.keeper.photoBox.forget(id);
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
