// One walkdown as the server has it, with what this page has not sent yet laid over it.

class ServerWalkdown {
  constructor(keeper) {
    this.keeper = keeper;
    this.revisions = {};
    this.theirs = {};
    this.others = [];
    this.photosOnServer = [];
    this.corrects = keeper.draft.corrects || null;
    this.signed = null;
    this.kept_photos = [];
    this.typedBox = new Box("typed", keeper.draft.draft_id);
  }

  get finished() { return this.signed !== null; }
  get locked() { return this.signed ? "This walkdown is signed." : this.keeper.closed; }
  get unsentPhotos() { return this.kept_photos.filter((photo) => photo.waits).length; }
  get unsent() { return this.keeper.outbox.all().length + this.unsentPhotos; }

  get answers() {
    const mine = this.keeper.outbox.all().map((letter) => [letter.field, letter]);
    return { ...this.theirs, ...Object.fromEntries(mine) };
  }

  get conflicts() {
    const letters = this.keeper.outbox.all().filter((letter) => letter.theirs);
    return Object.fromEntries(letters.map((letter) => [letter.field, letter]));
  }

  get refused() {
    const letters = this.keeper.outbox.all().filter((letter) => letter.refused);
    return Object.fromEntries(letters.map((letter) => [letter.field, letter.refused]));
  }

  // Takes over what the server says; true if the screen may have changed.
  learn(draft) {
    const before = JSON.stringify([this.theirs, this.others, this.photosOnServer]);
    for (const [name, answer] of Object.entries(draft.answers || {})) {
      if (answer.revision < (this.revisions[name] || 0)) continue; // written since it was asked
      this.revisions[name] = answer.revision;
      this.theirs[name] = answer;
    }
    this.others = draft.others || [];
    this.photosOnServer = draft.photos || [];
    if (draft.status && draft.status !== "open" && !this.signed) {
      const words = { submitted: "signed already", discarded: "discarded" }[draft.status];
      this.keeper.close({}, `This walkdown was ${words || draft.status}.`);
    }
    return before !== JSON.stringify([this.theirs, this.others, this.photosOnServer]);
  }

  give(name, { heading, value, reason }) {
    const by = name === "inspector" && !this.keeper.draft.signed_in ? value : this.nameNow();
    const waiting = this.keeper.outbox.get(name);
    const builds = waiting && !waiting.theirs
      ? { base_revision: waiting.base_revision, client: waiting.client }
      : { base_revision: this.revisions[name] || 0, client: this.keeper.client };
    this.keeper.outbox.put({
      field: name, heading, value, reason, by, at: localTime(), ...builds,
    });
    this.type(name, null);
    this.keeper.sending.now();
    this.keeper.onchange();
  }

  // In whose name one answers here: who holds this device comes before who began the walkdown.
  nameNow() {
    const typed = this.typed("inspector");
    return this.keeper.draft.signed_in || person.read().name || (typed ? typed.text.trim() : "")
      || answerTo(this, "inspector").value || this.keeper.draft.started_by || "";
  }

  hasArrived(letter, { revision, at }) {
    this.revisions[letter.field] = revision;
    this.theirs[letter.field] = { ...letter, revision, at };
    this.keeper.outbox.arrived(letter, revision);
  }

  // Somebody else answered meanwhile. The same answer is no conflict.
  otherAnswer(letter, theirs) {
    this.revisions[letter.field] = theirs.revision;
    this.theirs[letter.field] = theirs;
    const same = ["heading", "value", "reason"].every((part) => letter[part] === theirs[part]);
    if (same) this.keeper.outbox.arrived(letter, theirs.revision);
    else this.keeper.outbox.mark(letter, { theirs });
  }

  // Which of two answers stands.
  decide(name, mine) {
    const letter = this.keeper.outbox.get(name);
    if (!letter) return;
    if (mine) {
      this.keeper.outbox.put({
        ...letter, base_revision: letter.theirs.revision, theirs: null, refused: "",
      });
      this.keeper.sending.now();
    } else {
      this.keeper.outbox.drop(name);
    }
    this.keeper.onchange();
  }

  typed(name) { return this.typedBox.read(name); }

  type(name, text) {
    if (text === null) this.typedBox.forget(name);
    else this.typedBox.note(text, name);
  }

  async readPhotos() {
    const waiting = await photoBox.of(this.keeper.draft.draft_id);
    this.kept_photos.push(...waiting.map((photo) => ({ ...photo, waits: true })));
    if (waiting.length) this.keeper.onchange();
  }

  // Those of this page, and those that only the server has.
  photos(check) {
    const own = this.kept_photos.filter((photo) => photo.check === check);
    const known = new Set(this.kept_photos.map((photo) => photo.photo_id));
    const far = this.photosOnServer
      .filter((photo) => photo.check === check && !known.has(photo.photo_id))
      .map((photo) => ({
        id: photo.photo_id, photo_id: photo.photo_id,
        address: this.keeper.path("photos", photo.photo_id),
      }));
    return [...far, ...own];
  }

  async addPhoto(check, blob) {
    const home = this.keeper.draft.draft_id;
    const photo = { id: randomLetters(20), home, check, blob, by: this.nameNow() };
    await photoBox.write(photo);
    this.kept_photos.push({ ...photo, waits: true });
    this.keeper.onchange();
    this.keeper.photoSending.now();
  }

  // The photo's own id goes along, so that one sent twice is kept once.
  async sendPhoto(photo) {
    const asked = new URLSearchParams({ by: photo.by, client_photo: photo.id });
    const address = `${this.keeper.path("photos", photo.check)}?${asked}`;
    const { status, said } = await callServer(address, "POST", photo.blob);
    if (status === 200 || status === 201) {
      photo.photo_id = said.photo_id;
      this.keeper.lastSaved = localTime();
    } else if ([400, 413, 415, 422].includes(status)) {
      this.refusedPhoto = said.words || "The server does not take this photo.";
      this.kept_photos = this.kept_photos.filter((one) => one !== photo);
    } else {
      if (status === 410 || status === 404) this.keeper.close(said, "No longer open.");
      this.keeper.trouble = troubleWords(status);
      return false;
    }
    photo.waits = false;
    await photoBox.forget(photo.id);
    return true;
  }

  async removePhoto(id) {
    const photo = [...this.kept_photos, ...this.photosOnServer]
      .find((one) => one.id === id || one.photo_id === id);
    if (!photo) return;
    if (photo.photo_id) {
      const by = new URLSearchParams({ by: this.nameNow() });
      const address = `${this.keeper.path("photos", photo.photo_id)}?${by}`;
      const { status } = await callServer(address, "DELETE");
      if (status !== 200 && status !== 204 && status !== 404) return;
      this.photosOnServer = this.photosOnServer.filter((one) => one.photo_id !== photo.photo_id);
    }
    this.kept_photos = this.kept_photos.filter((one) => one !== photo);
    await photoBox.forget(id);
    this.keeper.onchange();
  }

  verdict() { return callServer(this.keeper.path("verdict"), "POST", {}); }

  async submit(signed) {
    const answer = await callServer(this.keeper.path("submit"), "POST", signed);
    if (answer.status === 200) {
      this.signed = { ...answer.said, ...signed };
      this.keeper.onchange();
    }
    return answer;
  }
}
