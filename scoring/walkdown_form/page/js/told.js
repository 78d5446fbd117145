// Tells a text in the language of who reads it; what is found nowhere stays as it is.

const SEPARATORS = ["\n", ". ", "; ", " · ", ": ", ", ", " and ", " or "];
const EDGES = /^([\s.,;:!·•■▲○✓]*)([^]*?)([\s.,;:!?…·]*)$/u;
const tongue = { sentences: new Map(), patterns: [], point: ".", kept: new Map() };

function speak(words) {
  if (!words) return;
  tongue.point = words.point;
  tongue.sentences = new Map(words.sentences);
  tongue.patterns = words.patterns.map(([english, other]) => withGaps(english, other));
}

function withGaps(english, other) {
  const parts = english.split(/\{([a-z][a-z0-9_]*)\}/);
  const pieces = parts.filter((_, n) => n % 2 === 0);
  const escaped = pieces.map((piece) => piece.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  return {
    other,
    gaps: parts.filter((_, n) => n % 2 === 1),
    anchor: pieces.reduce((longest, piece) => (piece.length > longest.length ? piece : longest)),
    finds: new RegExp(`^${escaped.join("([^]+?)")}$`),
  };
}

function told(text) {
  if (!tongue.sentences.size && tongue.point === ".") return text;
  if (!tongue.kept.has(text)) {
    const said = inOtherWords(text);
    tongue.kept.set(text, tongue.point === "." ? said
      : said.replace(/(?<![\w.])(\d+)\.(\d+)(?![\w]|\.\d)/g, `$1${tongue.point}$2`));
  }
  return tongue.kept.get(text);
}

function inOtherWords(text) {
  const [, before, core, after] = EDGES.exec(text);
  if (!/[A-Za-z]{2}/.test(core)) return text;
  let said = foundWhole(core);
  if (said === null && core[0] !== core[0].toLowerCase()) {
    const small = foundWhole(core[0].toLowerCase() + core.slice(1));
    said = small === null ? null : sentence(small);
  }
  return `${before}${said === null ? inParts(core) : said}${after}`;
}

function foundWhole(text) {
  if (tongue.sentences.has(text)) return tongue.sentences.get(text);
  for (const { other, gaps, anchor, finds } of tongue.patterns) {
    const found = text.includes(anchor) ? finds.exec(text) : null;
    if (found) {
      return other.replace(/\{([a-z][a-z0-9_]*)\}/g, (_, gap) => inOtherWords(found[gaps.indexOf(gap) + 1]));
    }
  }
  return null;
}

function inParts(text) {
  const separator = SEPARATORS.find((one) => text.includes(one));
  if (!separator) return text;
  const word = separator.trim();
  const between = tongue.sentences.has(word) ? ` ${tongue.sentences.get(word)} ` : separator;
  return text.split(separator).map(inOtherWords).join(between);
}
