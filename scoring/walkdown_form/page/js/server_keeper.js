// Keeps one walkdown on the server; what cannot be sent yet waits in the browser's outbox.

const LOOK_AGAIN_MS = 20000;

class ServerKeeper {
  constructor(draft, api) {
    this.onchange = () => {};
    this.draft = draft;
    this.base = `${api}/drafts/${encodeURIComponent(draft.draft_id)}`;
    this.client = randomLetters(12);
    this.outbox = new Outbox(draft.draft_id);
    this.lastSaved = null;
    this.closed = "";
    this.trouble = troubleWords(0);
    this.held = new ServerWalkdown(this);
    const changed = () => this.onchange();
    this.sending = new Sending(() => this.toSend(), (letter) => this.send(letter), changed);
    this.photoSending = new Sending(
      () => this.held.kept_photos.filter((photo) => photo.waits),
      (photo) => this.held.sendPhoto(photo), changed,
    );
    this.held.learn(draft);
    this.held.readPhotos().then(() => this.photoSending.now());
    this.sending.now();
    this.lookAgain();
    document.addEventListener("visibilitychange", () => this.lookAgain());
  }

  walkdown() { return this.held; }

  // An answer goes out in somebody's name; without one it waits.
  toSend() {
    return this.outbox.ready().filter((letter) => letter.by || this.held.nameNow());
  }

  // Resolves once all is sent, or once it turned out that it cannot be.
  async sendNow() {
    await this.sending.now();
    await this.photoSending.now();
  }

  path(...parts) {
    return [this.base, ...parts.map(encodeURIComponent)].join("/");
  }

  async send(letter) {
    const { field: name, heading, value, reason, base_revision, client } = letter;
    const by = letter.by || this.held.nameNow();
    const { status, said } = await callServer(this.path("answers", name), "PUT", {
      heading, value, reason, by, base_revision, client,
    });
    if (status === 200) {
      this.held.hasArrived(letter, said);
      this.lastSaved = said.at || localTime();
      return true;
    }
    if (status === 409) {
      this.held.otherAnswer(letter, said);
      return true;
    }
    if (status === 410 || status === 404) {
      this.close(said, "This walkdown is no longer open on the server.");
      return false;
    }
    if (status === 422) {
      this.outbox.mark(letter, { refused: said.words || "The server does not take this answer." });
      return true;
    }
    this.trouble = troubleWords(status);
    return false;
  }

  close(said, words) {
    this.closed = said.words || words;
    this.onchange();
  }

  // Who else is here, and what they answered.
  async lookAgain() {
    clearTimeout(this.lookTimer);
    this.lookTimer = setTimeout(() => this.lookAgain(), LOOK_AGAIN_MS);
    if (document.visibilityState !== "visible" || this.closed || this.held.signed) return;
    const { status, said } = await callServer(this.base);
    if (status !== 200 || !said.answers) return;
    if (this.sending.failed) this.sending.now();
    if (this.held.learn(said)) this.onchange();
  }

  stateLine() {
    if (this.held.signed) return { good: true, words: "done, and kept by the server" };
    const answers = this.outbox.all();
    const refused = answers.filter((letter) => letter.refused || letter.theirs).length;
    const waiting = answers.length - refused + this.held.unsentPhotos;
    if (this.closed) return { good: false, words: this.closed };
    if (waiting && (this.sending.failed || this.photoSending.failed)) {
      const stay = shelf.keeps ? "" : " Keep this page open.";
      return {
        good: false,
        words: `not saved yet (${waiting}): ${this.trouble}, will be sent.${stay}`,
      };
    }
    if (waiting && !this.held.nameNow()) {
      return { good: false, words: `not saved yet (${waiting}): write your name` };
    }
    if (waiting) return { good: true, mark: "…", words: `sending ${waiting}` };
    if (refused) return { good: false, words: `not saved (${refused}): please decide` };
    if (this.lastSaved) return { good: true, words: `saved ${shortTime(this.lastSaved)}` };
    return { good: true, words: "connected" };
  }
}

function troubleWords(status) {
  if (status === 401) return "you are signed out; open another page, sign in and come back here";
  return status ? `the server does not take it now (${status})` : "no connection";
}
