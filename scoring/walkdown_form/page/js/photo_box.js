// Photos are too large for the small store of a browser: they lie in its database.

class PhotoBox {
  constructor() {
    this.keeps = true;
    this.memory = new Map();
    this.opened = new Promise((found) => {
      try {
        const asked = indexedDB.open("walkdown form photos", 1);
        asked.onupgradeneeded = () => asked.result.createObjectStore("photos", { keyPath: "id" });
        asked.onsuccess = () => found(asked.result);
        asked.onerror = () => found(null);
        asked.onblocked = () => found(null);
      } catch {
        found(null);
      }
    });
  }

  // One piece of work on the database; null where there is none or it refuses.
  async #work(mode, start) {
    const database = await this.opened;
    if (!database) return null;
    return new Promise((done) => {
      try {
        const work = database.transaction("photos", mode);
        const asked = start(work.objectStore("photos"));
        work.oncomplete = () => done({ result: asked.result });
        work.onerror = () => done(null);
        work.onabort = () => done(null);
      } catch {
        done(null);
      }
    });
  }

  async write(photo) {
    const kept = await this.#work("readwrite", (photos) => photos.put(photo));
    this.keeps = kept !== null;
    if (kept === null) this.memory.set(photo.id, photo);
    return this.keeps;
  }

  async forget(id) {
    this.memory.delete(id);
    await this.#work("readwrite", (photos) => photos.delete(id));
  }

  // Every photo whose `home` is the given one: a walkdown or a draft.
  async of(home) {
    const kept = await this.#work("readonly", (photos) => photos.getAll());
    const all = [...(kept ? kept.result : []), ...this.memory.values()];
    return all.filter((photo) => photo.home === home);
  }
}
