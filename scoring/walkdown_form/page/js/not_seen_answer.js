// Not seen is an answer too, in one tap, with its reason; and any answer can be taken back.

function notSeen(page, walkdown, step) {
  const answer = answerTo(walkdown, step.check);
  const fits = (one) => step.reasons.includes(one.reason) || one.reason === answer.reason;
  const reasons = asSentences(page.form.not_seen).filter(fits)
    .map((one) => ({ ...one, value: one.reason }));
  const give = (value, reason) => {
    canBeUndone(page, walkdown, step, () => {
      walkdown.give(step.check, { heading: answerOf(step, "").heading, value, reason });
      takeBackDetails(walkdown, step);
    });
    page.beforeLeaving = null;
    page.draw();
  };
  return element("section", { class: "not-seen" },
    element("h2", {}, "Not seen, because"),
    choices("Not seen, because", "reason", reasons, answer.reason,
      (one) => give("", one.value), "choices beside small"),
    isGiven(answer)
      ? button("Take the answer back", "take-back", () => give("", ""), { class: "plain" }) : null);
}
