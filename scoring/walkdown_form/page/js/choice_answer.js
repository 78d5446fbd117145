// Answers that are picked: whole words, the worst last, and at once what a bad one means.

function choiceAnswer(page, walkdown, step) {
  const taken = answerTo(walkdown, step.check).value;
  const offered = asSentences(step.options).map((one) => ({ ...one, value: String(one.value) }));
  return [
    choices(step.label, "answer", offered, taken, (one) => {
      canBeUndone(page, walkdown, step, () => {
        walkdown.give(step.check, answerOf(step, one.value));
        if (one.good) takeBackDetails(walkdown, step);
      });
      page.draw();
      showResponse();
    }),
    response(meaningOf(walkdown, step)),
  ];
}

// What an answer means must not stay hidden below the edge of a small screen.
function showResponse() {
  const place = document.querySelector(".response");
  if (place) place.scrollIntoView({ block: "nearest" });
}

function answerOf(step, value) {
  const [entry] = step.entries;
  return { heading: entry ? entry.heading : step.check, value, reason: "" };
}

// Said aloud as well: the place is always there, its words come and go.
function response(option) {
  const place = element("div", { role: "status" });
  if (!option || option.good || !(option.what || option.do)) return place;
  const isHold = option.severity === "hold";
  const heading = { hold: "■ Hold", correct: "▲ Correct" }[option.severity];
  place.append(element("div", { class: isHold ? "response hold" : "response" },
    heading ? element("strong", {}, heading) : "",
    ...[paragraph(sentence(option.what)), paragraph(sentence(option.do))].filter(Boolean)));
  return place;
}
