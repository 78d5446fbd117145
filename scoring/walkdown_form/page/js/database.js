// The browser's own database. What it says is written lies on the disk, even if the device
// dies at once; its small store (localStorage) may still hold that back for a minute.

class Database {
  constructor() {
    this.opened = new Promise((found) => {
      try {
        const asked = indexedDB.open("walkdown form", 1);
        asked.onupgradeneeded = () => {
          asked.result.createObjectStore("kept", { keyPath: "key" });
          asked.result.createObjectStore("photos", { keyPath: "id" });
        };
        asked.onsuccess = () => found(asked.result);
        asked.onerror = () => found(null);
        asked.onblocked = () => found(null);
        setTimeout(() => found(null), 4000); // some browsers never answer
      } catch {
        found(null);
      }
    });
  }

  // One piece of work; null where there is no database, or it refuses.
  async work(store, mode, start) {
    const database = await this.opened;
    if (!database) return null;
    return new Promise((done) => {
      try {
        const work = database.transaction(store, mode, { durability: "strict" });
        const asked = start(work.objectStore(store));
        work.oncomplete = () => done({ result: asked.result });
        work.onerror = () => done(null);
        work.onabort = () => done(null);
      } catch {
        done(null);
      }
    });
  }
}
