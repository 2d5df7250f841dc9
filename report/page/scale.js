
// The strips' scales: while a part of the day is shown, what is seen fills them.

const isDirection = (name) => name === "heading" || name === "from";

// A direction is drawn on the turn that is nearest to another.
const turnedTo = (about, v) => (about === undefined ? v : about + ((((v - about + 180) % 360) + 360) % 360) - 180);

// seen are the values of a strip that the timeline shows.
function seen(strip) {
  const values = [];
  for (const name of strip.series) {
    for (let i = sampleAt(look.from); i <= sampleAt(look.to); i++) {
      const v = valueAt(name, i);
      if (v !== null) values.push(v);
    }
  }
  return values;
}

// middleOf is the mean direction.
function middleOf(values) {
  const sum = (f) => values.reduce((s, v) => s + f((v * Math.PI) / 180), 0);
  return (Math.atan2(sum(Math.sin), sum(Math.cos)) * 180) / Math.PI;
}

// rescaled is a strip on the scale of what is seen; on the day's where nothing is, or
// where directions are all round. No scale is so fine that it shows noise only.
function rescaled(strip) {
  const round = isDirection(strip.series[0]);
  let values = seen(strip);
  const about = round ? middleOf(values) : undefined;
  values = values.map((v) => turnedTo(about, v));
  const low = values.reduce((a, v) => Math.min(a, v), Infinity);
  const high = values.reduce((a, v) => Math.max(a, v), -Infinity);
  if (low > high || (round && high - low > 270)) return strip;
  const least = round ? 20 : (strip.max - strip.min) / 20;
  const middle = (low + high) / 2;
  const half = Math.max(least, high - low) / 2;
  const step = levelStep((2 * half) / ((strip.bottom - strip.top) / 26 + 1), round);
  const first = Math.floor((middle - half) / step + 1e-9);
  const last = Math.ceil((middle + half) / step - 1e-9);
  const grid = [];
  for (let k = first; k <= last; k++) grid.push(k * step);
  return { ...strip, about, step, grid, min: first * step, max: last * step };
}

// levelStep is the round step just above: 1, 2 or 5 times a power of ten, of
// directions a part of the quarter.
function levelStep(raw, round) {
  if (round) return [5, 10, 15, 30, 45, 90].find((s) => s >= raw) || 90;
  const power = 10 ** Math.floor(Math.log10(raw));
  return ([1, 2, 5].find((m) => raw <= m * power * (1 + 1e-9)) || 10) * power;
}

function levelText(strip, v) {
  if (strip.about !== undefined) return bearing(((v % 360) + 360) % 360);
  const decimals = Math.max(0, -Math.floor(Math.log10(strip.step) + 1e-9));
  return v.toFixed(decimals).replace("-", "−");
}

// drawLevels draws a strip's level lines, and their names where they aren't the day's.
function drawLevels({ view, drawn }, inside, strip) {
  if (strip.step) draw(drawn, "rect", { class: "cover", x: 0, y: strip.top - 7, width: view.left, height: strip.bottom - strip.top + 13 });
  for (const v of strip.grid) {
    const y = yOf(strip, v);
    draw(inside, "line", { class: "grid", x1: view.left, x2: view.right, y1: y, y2: y });
    if (strip.step) draw(drawn, "text", { class: "level", x: view.left - 5, y: y + 3.7 }, levelText(strip, v));
  }
}
