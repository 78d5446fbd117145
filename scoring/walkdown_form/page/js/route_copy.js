// A copy of the route's walkdowns as a file, and such a copy read back.

const WRITTEN_BY = "walkdown form without a network";

async function routeCopy(page) {
  const { keeper } = page;
  const walkdowns = [];
  for (const head of keeper.heads()) {
    const answers = Object.values(keeper.answersOf(head.walkdown_id)).filter(isGiven);
    const photos = [];
    for (const photo of await photoBox.of(head.walkdown_id)) {
      photos.push({ check: photo.check, image: await toBase64(photo.blob) });
    }
    if (!answers.length && !photos.length) continue;
    const { walkdown_id, unit_id, finished, signed_by, signed_at, told, recorded_at } = head;
    walkdowns.push({
      walkdown_id, unit_id, finished, answers, photos, signed_by, signed_at, told, recorded_at,
    });
  }
  return {
    written_by: WRITTEN_BY, contract: page.form.contract, route: page.data.route,
    saved_at: localTime(), walkdowns,
  };
}

function download(name, text) {
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const link = element("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

async function saveCopy(page) {
  const copy = await routeCopy(page);
  const plain = page.data.route.replace(/[^\p{L}\p{N}]+/gu, "_").slice(0, 60) || "route";
  const name = `${plain}_${copy.saved_at.replace(/[:T]/g, "-")}.json`;
  download(name, JSON.stringify(copy, null, 1));
  return `${counted(copy.walkdowns.length, "walkdown")} written to ${name}, among your downloads.`;
}

function isCopy(copy) {
  return copy && copy.written_by === WRITTEN_BY && Array.isArray(copy.walkdowns)
    && copy.walkdowns.every((one) => one && typeof one.walkdown_id === "string"
      && typeof one.unit_id === "string" && Array.isArray(one.answers)
      && one.answers.every((answer) => answer && typeof answer.field === "string"));
}

// What is here stays; what only the copy has is taken. Says how much of each.
async function readCopy(page, text) {
  let copy = null;
  try {
    copy = JSON.parse(text);
  } catch {
    // said below
  }
  if (!isCopy(copy)) return "This is no copy of a walkdown route; nothing was changed.";
  const { keeper } = page;
  const here = new Map(keeper.heads().map((head) => [head.walkdown_id, head]));
  const count = { taken: 0, differ: 0 };
  for (const one of copy.walkdowns) {
    const known = here.get(one.walkdown_id);
    const own = known ? keeper.answersOf(one.walkdown_id) : {};
    for (const answer of one.answers) takeAnswer(keeper, one, own, answer, count);
    if (known) continue;
    const { walkdown_id, unit_id, signed_by = "", signed_at = "", told = "" } = one;
    keeper.box.write({
      walkdown_id, unit_id, signed_by, signed_at, told, recorded_at: one.recorded_at || "",
      begun_at: one.recorded_at || copy.saved_at || "", finished: one.finished === true,
    }, "walkdown", unit_id, walkdown_id);
    for (const { check, image } of Array.isArray(one.photos) ? one.photos : []) {
      const blob = fromBase64(image);
      if (blob) await photoBox.write({ id: randomLetters(20), home: walkdown_id, check, blob });
    }
  }
  keeper.units.clear();
  const left = count.differ
    ? ` ${counted(count.differ, "answer")} of this device differed from the copy and stayed.` : "";
  return `${counted(count.taken, "answer")} taken from the copy.${left}`;
}

function takeAnswer(keeper, one, own, answer, count) {
  const { field: name, heading = "", value = "", reason = "" } = answer;
  const mine = own[name];
  if (mine && isGiven(mine)) {
    if (mine.value !== value || mine.reason !== reason || mine.heading !== heading) {
      count.differ += 1;
    }
    return;
  }
  const taken = { field: name, heading, value: String(value), reason: String(reason) };
  keeper.box.write(taken, "answer", one.walkdown_id, name);
  count.taken += 1;
}
