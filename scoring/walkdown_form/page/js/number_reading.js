// What a typed number says. Nothing is guessed: a comma is asked about, other text refused.

const DECIMAL = /^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)$/;
const FRACTION = /^(?:([0-9]+)(?: +|-))?([0-9]+)\/([1-9][0-9]*)$/;
const WITH_COMMA = /^([+-]?[0-9]*),([0-9]+)$/;
const WITH_WORDS = /^([+-]?[0-9]+\.?[0-9]*)\s*(?![eE][+-]?[0-9])[^0-9.,/\s-]+.*$/;

// Either `number`, or `words` that say what to write.
function readNumber(typed, { whole, fractions }) {
  const text = typed.trim();
  if (whole) {
    if (/^[0-9]{1,4}$/.test(text)) return { number: Number(text) };
    return { words: "A count is a whole number, such as 3." };
  }
  if (DECIMAL.test(text)) return { number: Number(text) };
  const part = fractions ? FRACTION.exec(text) : null;
  if (part) return { number: Number(part[1] || 0) + Number(part[2]) / Number(part[3]) };
  const comma = WITH_COMMA.exec(text);
  if (comma) {
    const pointed = `${comma[1] || "0"}.${comma[2]}`;
    const joined = `${comma[1]}${comma[2]}`;
    const asked = comma[2].length === 3 ? `${pointed} or ${joined}` : pointed;
    return { words: `A comma can be read in two ways: write ${asked}.` };
  }
  if (text.includes("/") && !fractions) return { words: "Fractions go with inches only." };
  const beside = WITH_WORDS.exec(text);
  if (beside) return { words: `Write the number alone: ${beside[1]}` };
  return { words: "This is not a number. Write it like 12.5." };
}
