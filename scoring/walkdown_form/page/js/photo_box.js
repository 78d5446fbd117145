// Photos lie in the browser's database. `home` is the walkdown or the draft they belong to.
// They lie there as bytes: WebKit's database takes no files in a private window.

const photoBox = {
  memory: new Map(),

  async write(photo) {
    const { blob, shown, ...about } = photo;
    const kept_photo = { ...about, type: blob.type, bytes: await blob.arrayBuffer() };
    const kept = await database.work("photos", "readwrite", (photos) => photos.put(kept_photo));
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
    const all = [...(kept ? kept.result.map(asBlob) : []), ...this.memory.values()];
    return all.filter((photo) => photo.home === home);
  },
};

function asBlob({ bytes, type, ...photo }) {
  return bytes ? { ...photo, blob: new Blob([bytes], { type }) } : photo; // as older forms kept it
}
