// Days and times as the machine's own place has them; no zone, as in the records.

function twoDigits(number) {
  return String(number).padStart(2, "0");
}

function dayOf(date) {
  return `${date.getFullYear()}-${twoDigits(date.getMonth() + 1)}-${twoDigits(date.getDate())}`;
}

function clockOf(date) {
  return `${twoDigits(date.getHours())}:${twoDigits(date.getMinutes())}`;
}

function localTime(date = new Date()) {
  return `${dayOf(date)}T${clockOf(date)}:${twoDigits(date.getSeconds())}`;
}

// "14:03" of a time of today, with its day before it otherwise.
function shortTime(text) {
  const date = new Date(text);
  if (!text || Number.isNaN(date.getTime())) return String(text || "");
  const day = dayOf(date);
  return day === dayOf(new Date()) ? clockOf(date) : `${day} ${clockOf(date)}`;
}

function counted(number, one, many = `${one}s`) {
  return `${number} ${number === 1 ? one : many}`;
}
