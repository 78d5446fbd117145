// A photo of a phone is far larger than what one looks for in it.

const LONGEST_SIDE = 1600;
const JPEG_QUALITY = 0.82;

// A JPEG of at most LONGEST_SIDE, or null if the browser cannot read the picture.
async function resizedPhoto(file) {
  try {
    const image = await createImageBitmap(file, { imageOrientation: "from-image" });
    const share = Math.min(1, LONGEST_SIDE / Math.max(image.width, image.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(image.width * share));
    canvas.height = Math.max(1, Math.round(image.height * share));
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#fff"; // what is clear in a picture would turn black
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(image, 0, 0, canvas.width, canvas.height);
    image.close();
    return await new Promise((done) => { canvas.toBlob(done, "image/jpeg", JPEG_QUALITY); });
  } catch {
    return null;
  }
}

async function toBase64(blob) {
  const text = await new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result);
    reader.onerror = failed;
    reader.readAsDataURL(blob);
  });
  return text.slice(text.indexOf(",") + 1);
}

// Null if it is no base64.
function fromBase64(text) {
  let letters = "";
  try {
    letters = atob(text);
  } catch {
    return null;
  }
  const bytes = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
  return new Blob([bytes], { type: "image/jpeg" });
}
