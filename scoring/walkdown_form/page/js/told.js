// Tells a text in the language of who reads it; what is found nowhere stays as it is. The same
// steps as scoring/language/tell.py takes, in which the reasons stand.

const EDGES = /^([\s.,;:!·•■▲○✓=]*)([^]*?)([\s.,;:!?…·]*)$/;
const BETWEEN = /(\n|\. |; | · |: | {2}|, | and | or | \(| \[|\](?!\w)|\)(?![\w^]))/;
const BESIDE_NUMBER = /([-+−<×→]?\d[\d.,\u202f]*(?: ?%)?)/;
const GAP = /\{([a-z][a-z0-9_]*)\}/;
const FEW = 9;
const FEW_IN_SEVERAL = 16;
const MOST_PIECES = 12;
const tongue = { sentences: new Map(), patterns: [], point: ".", kept: new Map() };

function speak(words) {
  if (!words) return;
  tongue.point = words.point;
  tongue.sentences = new Map(words.sentences);
  tongue.patterns = words.patterns.map(([english, other]) => withGaps(english, other));
}

function withGaps(english, other) {
  const parts = english.split(GAP);
  const pieces = parts.filter((_, n) => n % 2 === 0);
  return {
    other,
    gaps: parts.filter((_, n) => n % 2 === 1),
    anchor: pieces.reduce((longest, piece) => (piece.length > longest.length ? piece : longest)).toLowerCase(),
    letters: pieces.join("").replace(/[^A-Za-z]/g, "").length,
    finds: new RegExp(`^${pieces.map(wholeWords).join("([^]+?)")}$`),
  };
}

function wholeWords(piece) {
  const before = /^[A-Za-z]/.test(piece) && !/^e?s\b/.test(piece) ? "(?<![A-Za-z])" : "";
  const after = /[A-Za-z]$/.test(piece) ? "(?![a-z])" : "";
  return `${before}${piece.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")}${after}`;
}

function told(text) {
  if (!tongue.sentences.size && tongue.point === ".") return text;
  if (!tongue.kept.has(text)) {
    const small = text.toLowerCase();
    const said = saidWith(text, tongue.patterns.filter((one) => small.includes(one.anchor)));
    tongue.kept.set(text, tongue.point === "." ? said
      : said.replace(/(?<![\w.,-])(\d+)\.(\d+)(?![\w]|[.,]\d)/g, `$1${tongue.point}$2`));
  }
  return tongue.kept.get(text);
}

function saidWith(text, near) {
  const [, before, core, after] = EDGES.exec(text);
  if (!/[A-Za-z]{2}/.test(core)) return text;
  const whole = saidWhole(core, near);
  return `${before}${whole === null ? inPieces(core, near) : whole}${after}`;
}

function saidWhole(text, near) {
  const said = asWritten(text, near);
  if (said !== null || !/^[A-Z]/.test(text)) return said;
  const small = asWritten(text[0].toLowerCase() + text.slice(1), near);
  return small === null ? null : sentence(small);
}

function asWritten(text, near) {
  if (tongue.sentences.has(text)) return tongue.sentences.get(text);
  const least = /\n|\. |; /.test(text) ? FEW_IN_SEVERAL : 0;
  for (const { other, gaps, letters, finds } of near) {
    const found = letters >= least ? finds.exec(text) : null;
    const fits = found
      && (letters >= FEW || !found.slice(1).some((one) => /(?<![\w-])[A-Za-z]{2,}(?![\w-]*\d)/.test(one)));
    if (fits) {
      return other.replace(/\{([a-z][a-z0-9_]*)\}/g,
        (_, gap) => saidWith(found[gaps.indexOf(gap) + 1], near));
    }
  }
  return null;
}

function inPieces(text, near) {
  const parts = text.split(BETWEEN);
  if (parts.length === 1) return besideNumbers(text, near);
  const said = [];
  for (let at = 0; at < parts.length; at += 2) {
    let whole = null;
    let end = Math.min(parts.length, at + 2 * MOST_PIECES - 1);
    for (; end > at; end -= 2) {
      if (at === 0 && end === parts.length) continue;
      whole = wholeRun(parts.slice(at, end).join(""), near);
      if (whole !== null || end === at + 1) break;
    }
    said.push(whole === null ? besideNumbers(parts[at], near) : whole);
    at = end - 1;
    if (at + 1 < parts.length) said.push(saidBetween(parts[at + 1]));
  }
  return said.join("");
}

function wholeRun(run, near) {
  const [, before, core, after] = EDGES.exec(run);
  const whole = core ? saidWhole(core, near) : null;
  return whole === null ? null : `${before}${whole}${after}`;
}

function saidBetween(separator) {
  const word = separator.trim();
  return tongue.sentences.has(word) ? ` ${tongue.sentences.get(word)} ` : separator;
}

function besideNumbers(text, near) {
  return text.split(BESIDE_NUMBER).map((part, n) => {
    const core = part.trim();
    if (n % 2 || !/[A-Za-z]{2}/.test(core)) return part;
    const whole = saidWhole(core, near);
    return whole === null ? part : part.replace(core, () => whole);
  }).join("");
}
