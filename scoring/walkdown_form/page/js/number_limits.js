// Whether a typed number is taken, questioned or refused, by the limits given as data.

function contractValue(entry, number) {
  return (number - entry.offset) * entry.factor;
}

function plainNumber(value) {
  return String(Number(value.toPrecision(4)));
}

// The number in the contract's unit where it was typed in another one.
function inContractUnit(step, entry, number) {
  const own = step.entries[0];
  if (!own || own.heading === entry.heading) return "";
  return `${plainNumber(contractValue(entry, number))} ${own.unit}`.trim();
}

function isOutside(value, limits) {
  if (!limits) return false;
  const { low, high } = limits;
  return (typeof low === "number" && value < low) || (typeof high === "number" && value > high);
}

function isRefused(value, allowed) {
  if (!allowed) return false;
  const { minimum, above, maximum } = allowed;
  return (typeof minimum === "number" && value < minimum)
    || (typeof above === "number" && value <= above)
    || (typeof maximum === "number" && value > maximum);
}

function rangeWords(limits, entry) {
  return entry.measure === "inch" && limits.words_inch ? limits.words_inch : limits.words;
}

// What the rules say of an answer that is worse than good, with its own numbers; null if nothing.
function beyondGood(step, answer) {
  const entry = step.entries.find((one) => one.heading === answer.heading);
  if (!entry || answer.value === "") return null;
  const whole = step.kind === "count";
  const { number } = readNumber(answer.value, { whole, fractions: entry.heading.endsWith("_in") });
  if (number === undefined) return null;
  const value = contractValue(entry, number);
  const { low, high } = step.usual || {};
  const isLow = typeof low === "number" && value < low;
  const isHigh = typeof high === "number" && value > high;
  const { at_zero: atZero, below, above } = step.beyond || {};
  const far = (step.farther || []).find((one) => value < one.below || value > one.above);
  const said = (value === 0 && isLow && atZero) || far || (isLow && below) || (isHigh && above);
  if (!said) return null;
  const beyond = plainNumber(isLow ? low - value : value - high);
  const filled = (words) => words.replaceAll("{value}", plainNumber(value))
    .replaceAll("{beyond}", beyond);
  return { ...said, what: filled(said.what), do: filled(said.do) };
}

// `state`: empty, refused, questioned or fine; `words` say why. `including`: a count that holds it.
function judgeNumber(step, entry, typed, including = null) {
  if (!typed.trim()) return { state: "empty", words: "" };
  const whole = step.kind === "count" || Boolean(step.allowed && step.allowed.whole);
  const read = readNumber(typed, { whole, fractions: entry.heading.endsWith("_in") });
  if (read.words) return { state: "refused", words: read.words };
  const value = contractValue(entry, read.number);
  const also = inContractUnit(step, entry, read.number);
  const given = `${typed.trim()} ${entry.unit}`.trim() + (also ? ` (${also})` : "");
  if (isRefused(value, step.allowed)) {
    return { state: "refused", words: `${given} cannot be. Allowed: ${step.allowed.words}.` };
  }
  if (including && value > including.number) {
    return { state: "refused", words: `${given} cannot be: ${including.label}: ${including.number}.` };
  }
  const asked = `Is ${given} right?`;
  if (isOutside(value, step.plausible)) {
    const why = `Likely is ${rangeWords(step.plausible, entry)}.`;
    return { state: "questioned", words: asked, why };
  }
  if (isOutside(value, step.usual)) {
    return { state: "questioned", words: asked, why: `Good is ${rangeWords(step.usual, entry)}.` };
  }
  return { state: "fine", words: also ? `= ${also}` : "" };
}
