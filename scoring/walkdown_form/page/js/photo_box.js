// Photos lie in the browser's database. `home` is the walkdown or the draft they belong to.

const photoBox = {
  memory: new Map(),

  async write(photo) {
    const kept = await database.work("photos", "readwrite", (photos) => photos.put(photo));
    if (kept === null) {
      this.memory.set(photo.id, photo);
      shelf.unkept.add(`photo/${photo.id}`);
    } else {
      shelf.lastSaved = localTime();
    }
  },

  async forget(id) {
    this.memory.delete(id);
    shelf.unkept.delete(`photo/${id}`);
    await database.work("photos", "readwrite", (photos) => photos.delete(id));
  },

  async of(home) {
    const kept = await database.work("photos", "readonly", (photos) => photos.getAll());
    const all = [...(kept ? kept.result : []), ...this.memory.values()];
    return all.filter((photo) => photo.home === home);
  },
};
