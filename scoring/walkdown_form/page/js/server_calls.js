// One call to the server the page came from. No answer at all is told apart from a refusal.

const PATIENCE_MS = 15000;
const PATIENCE_PHOTO_MS = 120000;

// `status` 0 where there is no connection; `said` is what the server answered, as data.
async function callServer(address, method = "GET", body = null) {
  const isPhoto = body instanceof Blob;
  const about = { method, cache: "no-store", credentials: "same-origin", headers: {} };
  if (isPhoto) {
    about.body = body;
    about.headers["Content-Type"] = "image/jpeg";
  } else if (body !== null) {
    about.body = JSON.stringify(body);
    about.headers["Content-Type"] = "application/json";
    about.keepalive = true; // goes out even if the page is closed at this moment
  }
  const giveUp = new AbortController();
  const timer = setTimeout(() => giveUp.abort(), isPhoto ? PATIENCE_PHOTO_MS : PATIENCE_MS);
  try {
    const answer = await fetch(address, { ...about, signal: giveUp.signal });
    const text = await answer.text();
    let said = {};
    try {
      said = JSON.parse(text) || {};
    } catch {
      // a proxy between here and the server may say anything
      if (answer.ok && text) return { status: 0, said: {} };
    }
    return { status: answer.status, said };
  } catch {
    return { status: 0, said: {} };
  } finally {
    clearTimeout(timer);
  }
}
