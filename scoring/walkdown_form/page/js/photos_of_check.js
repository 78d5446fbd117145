// Photos of what was seen at a check, taken by the device's own camera.

function photosOfCheck(page, walkdown, step) {
  const photos = walkdown.photos(step.check);
  const picked = element("input", {
    type: "file", accept: "image/*", capture: "environment", "data-key": "photo",
    class: "hidden-file",
    onchange: async (event) => {
      const [file] = event.target.files;
      if (!file) return;
      const photo = await resizedPhoto(file);
      if (photo) await walkdown.addPhoto(step.check, photo);
      page.draw();
      if (!photo) page.say("This picture cannot be read; take a photo instead.");
    },
  });
  return element("section", { class: "photos" },
    walkdown.refusedPhoto ? paragraph(walkdown.refusedPhoto, "response hold") : null,
    photos.map((photo, at) => element("figure", {},
      element("img", { src: photoAddress(photo), alt: `photo ${at + 1} of ${step.label}` }),
      button("Remove", `remove=${photo.id}`, async () => {
        await walkdown.removePhoto(photo.id);
        page.draw();
      }, { "aria-label": `Remove photo ${at + 1}` }))),
    element("label", { class: "button" }, photos.length ? "Another photo" : "Take a photo", picked));
}

function photoAddress(photo) {
  if (!photo.blob) return photo.address;
  photo.shown = photo.shown || URL.createObjectURL(photo.blob);
  return photo.shown;
}
