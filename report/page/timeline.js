
// The timeline: a cursor at the moment, a part of the day drawn larger.

const steps = [5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400];
const timelines = []; // one for each width that the figure is drawn in
let whole = null; // the day from end to end

function makeTimelines() {
  for (const [name, view] of Object.entries(day.timeline)) {
    const root = figureOf(name);
    if (!root) continue;
    whole = whole || { from: view.from, to: view.to };
    timelines.push(makeTimeline(name, root, view));
  }
  if (!whole) return;
  Object.assign(look, whole);
  onZoom.push(() => timelines.forEach(redraw), () => timelines.forEach(mark));
  onMoment.push(() => timelines.forEach(mark));
  onPick.push(() => timelines.forEach(mark));
}

function makeTimeline(name, root, view) {
  const line = { root, view, bottom: view.strips[view.strips.length - 1].bottom };
  const clip = draw(root, "clipPath", { id: `${name}-clip` });
  draw(clip, "rect", { x: view.left, y: 0, width: view.right - view.left, height: line.bottom });
  line.drawn = draw(root, "g", { class: "drawn", "aria-hidden": "true" });
  line.marks = draw(root, "g", { class: "marks", "clip-path": `url(#${name}-clip)`, "aria-hidden": "true" });
  line.clip = `url(#${name}-clip)`;
  listen(line);
  return line;
}

const xOf = (view, t) => view.left + ((t - look.from) / (look.to - look.from)) * (view.right - view.left);
const timeAt = (view, x) => look.from + ((x - view.left) / (view.right - view.left)) * (look.to - look.from);
const zoomed = () => look.from > whole.from || look.to < whole.to;

// mark draws the cursor and the picked stretch.
function mark({ marks, view, bottom }) {
  marks.replaceChildren();
  const top = view.bars[0] - 1;
  const s = look.picked;
  if (s) {
    const x = xOf(view, s.start);
    draw(marks, "rect", { class: "picked", x, y: top, width: Math.max(1.5, xOf(view, s.end) - x), height: bottom - top });
  }
  if (look.at !== null) {
    const x = xOf(view, timeOf(look.at));
    draw(marks, "line", { class: "cursor", x1: x, x2: x, y1: top, y2: bottom });
  }
}

// redraw draws the part of the day over the whole day's drawing.
function redraw(line) {
  line.drawn.replaceChildren();
  if (!zoomed()) return;
  const { drawn, view, bottom } = line;
  const width = view.right - view.left;
  const cover = (x, y, w, h) => draw(drawn, "rect", { class: "cover", x, y, width: w, height: h });
  cover(view.left - 1, view.bars[0] - 15, width + 3, view.bars[1] - view.bars[0] + 17);
  cover(view.left - 26, bottom + 5, width + 38, 12);
  for (const strip of view.strips) cover(view.left - 1, strip.top - 3, width + 4, strip.bottom - strip.top + 5);
  const inside = draw(drawn, "g", { "clip-path": line.clip });
  const strips = view.strips.map(rescaled);
  for (const strip of strips) drawLevels(line, inside, strip);
  drawClock(line, inside);
  for (const s of day.stretches) if (s.end > look.from && s.start < look.to) drawStretch(line, inside, s);
  for (const strip of strips) {
    for (const name of strip.series) {
      draw(inside, "path", { class: `curve curve-${name}`, d: curve(view, strip, name) });
    }
    draw(drawn, "line", { class: "axis", x1: view.left, x2: view.right, y1: strip.bottom, y2: strip.bottom });
  }
}

function drawClock({ view, drawn, bottom }, inside) {
  const span = look.to - look.from;
  const step = steps.find((s) => span / s <= view.ticks) || steps[steps.length - 1];
  for (let t = Math.ceil((look.from + day.offset) / step) * step - day.offset; t <= look.to; t += step) {
    const x = xOf(view, t);
    for (const s of view.strips) draw(inside, "line", { class: "grid", x1: x, x2: x, y1: s.top, y2: s.bottom });
    if (x < view.right - (step < 60 ? 12 : 4)) draw(drawn, "text", { class: "tick", x, y: bottom + 12.6 }, clock(t, step < 60));
  }
}

function drawStretch({ view, drawn }, inside, s) {
  const a = Math.max(view.left, xOf(view, s.start));
  const b = Math.min(view.right, xOf(view, s.end));
  const width = Math.max(0.8, b - a);
  if (s.kind === "run" || s.kind === "drift") {
    for (const strip of view.strips) {
      draw(inside, "rect", { class: `tint ${s.kind}`, x: a, y: strip.top, width, height: strip.bottom - strip.top });
    }
  }
  draw(inside, "rect", { class: `bar ${s.kind}`, x: a, y: view.bars[0], width, height: view.bars[1] - view.bars[0] });
  if (s.id.length * 6.5 < b - a) {
    draw(drawn, "text", { class: "id", x: (a + b) / 2, y: view.bars[0] - 3 }, s.id);
  }
}

const yOf = (strip, v) => strip.bottom - ((v - strip.min) / (strip.max - strip.min)) * (strip.bottom - strip.top);

// curve is the path of a series in view: of each bucket of samples the lowest and
// the highest, so that no peak is lost. A direction breaks where it passes north.
function curve(view, strip, name) {
  const values = series[name] || [];
  const circular = isDirection(name);
  const first = sampleAt(look.from - day.step);
  const last = sampleAt(look.to + day.step);
  const size = Math.max(1, Math.ceil((last - first) / (2 * (view.right - view.left))));
  let path = "";
  let before = null;
  for (let i = first; i <= last; i += size) {
    for (const k of circular ? [i] : extremes(values, i, Math.min(i + size, last + 1))) {
      const v = k < values.length && values[k] !== null ? turnedTo(strip.about, values[k]) : null;
      if (v !== null) {
        const broken = before === null || (circular && Math.abs(v - before) > 180);
        path += `${broken ? "M" : "L"}${xOf(view, timeOf(k)).toFixed(1)},${yOf(strip, v).toFixed(1)}`;
      }
      before = v;
    }
  }
  return path;
}

// extremes are the samples of the lowest and the highest value in their order, or
// one that is not known where there is such.
function extremes(values, from, to) {
  let low = from;
  let high = from;
  for (let i = from; i < to; i++) {
    if (values[i] === null || values[i] === undefined) return [i];
    if (values[i] < values[low]) low = i;
    if (values[i] > values[high]) high = i;
  }
  return low === high ? [low] : [Math.min(low, high), Math.max(low, high)];
}

// zoom shows a part of the day.
function zoom(from, to) {
  const least = Math.min(whole.to - whole.from, Math.max(30, 20 * day.step));
  const span = Math.min(whole.to - whole.from, Math.max(least, to - from));
  const middle = (from + to) / 2;
  look.from = Math.min(whole.to - span, Math.max(whole.from, middle - span / 2));
  look.to = look.from + span;
  onZoom.forEach((f) => f());
  say(zoomed() ? `Timeline from ${clock(look.from)} to ${clock(look.to)}` : "Timeline of the whole day");
}

// zoomBy makes what is shown so many times as long, about the moment if it is in
// view.
function zoomBy(factor) {
  const span = look.to - look.from;
  const t = look.at === null ? -1 : timeOf(look.at);
  const about = t >= look.from && t <= look.to ? t : look.from + span / 2;
  const part = (about - look.from) / span;
  zoom(about - span * factor * part, about + span * factor * (1 - part));
}

// slide shows what comes before (−) or after (+), by a part of what is shown.
function slide(part) {
  const by = Math.min(whole.to - look.to, Math.max(whole.from - look.from, part * (look.to - look.from)));
  zoom(look.from + by, look.to + by);
}

// intoView slides the timeline to where a stretch's middle is seen.
function intoView(t) {
  if (t < look.from || t > look.to) {
    const half = (look.to - look.from) / 2;
    zoom(t - half, t + half);
  }
}

// listen follows the pointer: over the timeline it moves the moment, a drag zooms,
// a click picks. A finger's tap moves the moment; on a bar, or where the moment
// already is in that stretch, it picks.
function listen(line) {
  const { root, view } = line;
  let down = null;
  let band = null;
  const inside = (p) => p.x >= view.left - 4 && p.x <= view.right + 4 && p.y >= view.bars[0] - 15;
  const momentAt = (p) => sampleAt(timeAt(view, Math.min(view.right, Math.max(view.left, p.x))));
  const end = () => {
    if (band) band.remove();
    down = band = null;
  };
  root.addEventListener("pointerdown", (e) => {
    const p = placeIn(root, e);
    if (e.button !== 0 || !inside(p)) return;
    down = { p, shown: look.at === null ? null : stretchAt(timeOf(look.at)) };
    root.setPointerCapture(e.pointerId);
    moveTo(momentAt(p));
  });
  root.addEventListener("pointermove", (e) => {
    const p = placeIn(root, e);
    if (down && Math.abs(p.x - down.p.x) > 6 * p.unit) {
      band = band || draw(line.root, "rect", { class: "band", y: view.bars[0], height: line.bottom - view.bars[0], "clip-path": line.clip });
      band.setAttribute("x", Math.min(p.x, down.p.x));
      band.setAttribute("width", Math.abs(p.x - down.p.x));
    }
    if (down || inside(p)) moveTo(momentAt(p));
  });
  root.addEventListener("pointerup", (e) => {
    if (!down) return;
    const p = placeIn(root, e);
    if (band) {
      const [a, b] = [timeAt(view, p.x), timeAt(view, down.p.x)];
      zoom(Math.min(a, b), Math.max(a, b));
    } else {
      const s = stretchAt(timeAt(view, p.x));
      const onBar = p.y < view.bars[1] + 10;
      if (s && (e.pointerType === "mouse" || onBar || s === down.shown)) pick(s, byId("moment"));
    }
    end();
  });
  root.addEventListener("pointercancel", end);
}
