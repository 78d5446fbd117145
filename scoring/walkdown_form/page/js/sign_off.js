// Signing: what is still missing is said; once signed, what was kept and where.

async function sign(page, unit, walkdown, isTold) {
  const signed = {
    signed_by: typedText(walkdown, SIGNED_BY), told: typedText(walkdown, TOLD),
    reason: typedText(walkdown, WHY_CORRECTED),
  };
  const online = page.data.mode === "online";
  takeNotes(walkdown);
  if (online && walkdown.unsent) {
    page.say("Sending …");
    await page.keeper.sendNow();
  }
  const missing = notReady(walkdown, isTold, signed);
  if (missing) return page.say(missing);
  if (!online) {
    walkdown.sign(signed);
    return page.open();
  }
  const { status, said } = await walkdown.submit(signed);
  if (status === 200) return page.open();
  if (status === 422) {
    page.verdict = { ...(page.verdict || {}), faults: said.faults || [] };
    page.draw();
    return page.say(said.words || "The server asks for more before it is signed.");
  }
  return page.say(said.words || "No connection: not signed yet. Nothing is lost; try again.");
}

// A field that was drawn anew under who types in it tells of no change when it is left.
function takeNotes(walkdown) {
  const typed = walkdown.typed("notes");
  if (!typed) return;
  giveWord(walkdown, "notes", plainText(typed.text).trim());
  walkdown.type("notes", null);
}

function notReady(walkdown, isTold, signed) {
  const missing = missingAtStart(walkdown);
  if (missing.length) return `Still to be said at the start: ${missing.join(", ")}.`;
  if (walkdown.unsent) return "Not everything is sent or decided yet: not signed.";
  if (isTold && !signed.told) return "A hold is made or lifted: say who was told.";
  if (walkdown.corrects && !signed.reason) return "Say why it is corrected.";
  if (!signed.signed_by) return "Write your name under it.";
  return "";
}

function doneScreen(page, unit, walkdown) {
  const online = page.data.mode === "online";
  const head = online ? walkdown.signed : walkdown.head;
  const said = online ? walkdown.signed : null;
  const holds = said ? said.holds || [] : plainHolds(page, unit, walkdown);
  const at = head.signed_at ? `, ${shortTime(head.signed_at)}` : "";
  const [ownPage, sheet] = said ? [said.unit_page, said.sheet].map(ownAddress) : ["", ""];
  return {
    title: "Signed",
    body: [
      paragraph(`${unit.unit_id}: walkdown ${head.walkdown_id}, signed by ${head.signed_by}${at}.`),
      ...verdictPart(page, said, holds),
      head.told ? paragraph(`Told: ${head.told}`) : null,
      ...nextPart(online, said),
      sheet ? element("a", { class: "button", href: sheet }, "Print this walkdown (PDF)") : null,
      ownPage ? element("a", { class: "button", href: ownPage }, "To the page of this unit") : null,
      online ? null : button("Take it up again", "take-up", () => {
        walkdown.takeUpAgain();
        page.draw();
      }),
      online ? null : button("Another walkdown of this unit", "another", () => {
        page.keeper.beginAnother(unit);
        go(placeOf(unit.unit_id, "start"));
      }),
      cautions(page),
    ],
    bar: online ? [] : [button("Route", "to-route", () => go("#/"), { class: "strong" })],
  };
}

// An address of our own server; empty where it is none.
function ownAddress(address) {
  return /^\/(?!\/)/.test(address || "") ? address : "";
}

// Where to go now: the next unit of the walk, by the list of today.
function nextPart(online, said) {
  if (!online) return [];
  const next = said && said.next;
  const address = next ? ownAddress(next.address) : "";
  return [
    address ? element("section", { class: "next" }, element("h2", {}, `Next: ${next.unit_id}`),
      paragraph(sentence(next.why)),
      element("a", { class: "button strong", href: address, "data-key": "next-unit" },
        `Go to ${next.unit_id}`)) : null,
    element("a", { class: "button", href: "/today" }, "Today: what else is due"),
  ];
}
