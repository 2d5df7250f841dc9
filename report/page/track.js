
// The track: the boat at the moment, the picked stretch, and drawn larger the part
// that the timeline shows.

const tracks = [];

function makeTracks() {
  for (const [name, view] of Object.entries(day.track)) {
    const root = figureOf(name);
    if (root && series.east && series.north) tracks.push(makeTrack(root, view));
  }
  onMoment.push(() => tracks.forEach(placeBoat));
  onPick.push(() => tracks.forEach(markPicked));
  onZoom.push(() => tracks.forEach((track) => {
    drawShown(track);
    markPicked(track);
    placeBoat(track);
  }));
}

function makeTrack(root, view) {
  const track = { root, view, map: view };
  const [x, y, right, bottom] = view.box;
  const id = `clip-${tracks.length}`;
  draw(draw(root, "clipPath", { id }), "rect", { x, y, width: right - x, height: bottom - y });
  track.shown = draw(root, "g", { class: "drawn", "aria-hidden": "true" });
  for (const layer of ["picked", "boat"]) track[layer] = draw(root, "g", { class: "marks", "clip-path": `url(#${id})`, "aria-hidden": "true" });
  let down = null;
  root.addEventListener("pointermove", (e) => {
    const i = nearest(track, placeIn(root, e), e.pointerType === "mouse" ? 18 : 28);
    if (i !== null) moveTo(i);
  });
  root.addEventListener("pointerdown", (e) => {
    down = look.at === null ? null : stretchAt(timeOf(look.at));
  });
  root.addEventListener("click", (e) => {
    const i = nearest(track, placeIn(root, e), 28);
    if (i === null) return;
    moveTo(i);
    const s = stretchAt(timeOf(i));
    if (s && (e.pointerType !== "touch" || s === down)) pick(s, byId("moment"));
  });
  return track;
}

// where is a sample's place in the figure, null where it is not known.
function where(map, i) {
  const east = valueAt("east", i);
  const north = valueAt("north", i);
  return east === null || north === null ? null : { x: map.x0 + map.scale * east, y: map.y0 - map.scale * north };
}

// nearest is the sample whose place is nearest to a pointer, of those that the
// timeline shows, no farther off than so many pixels.
function nearest({ map }, p, pixels) {
  let best = null;
  let least = (pixels * p.unit) ** 2;
  for (let i = sampleAt(look.from); i <= sampleAt(look.to); i++) {
    const q = where(map, i);
    const d = q ? (q.x - p.x) ** 2 + (q.y - p.y) ** 2 : Infinity;
    if (d < least) [best, least] = [i, d];
  }
  return best;
}

function placeBoat({ boat, map }) {
  boat.replaceChildren();
  const at = look.at === null ? null : where(map, look.at);
  if (!at) return;
  const heading = valueAt("heading", look.at);
  const g = draw(boat, "g", { class: "boat", transform: `translate(${at.x.toFixed(1)} ${at.y.toFixed(1)})` });
  draw(g, "circle", { class: "halo", r: 11 });
  if (heading === null) draw(g, "circle", { class: "hull", r: 4.5 });
  else draw(g, "path", { class: "hull", d: "M0,-9C3.6,-5 4,-1 3.6,7H-3.6C-4,-1 -3.6,-5 0,-9Z", transform: `rotate(${heading})` });
}

// way is the path of the track from one time to another.
function way(map, from, to) {
  let path = "";
  let open = false;
  for (let i = sampleAt(from); i <= sampleAt(to); i++) {
    const p = where(map, i);
    if (p) path += `${open ? "L" : "M"}${p.x.toFixed(1)},${p.y.toFixed(1)}`;
    open = p !== null;
  }
  return path;
}

function markPicked({ picked, map }) {
  picked.replaceChildren();
  const s = look.picked;
  if (!s || s.end < look.from || s.start > look.to) return;
  const d = way(map, Math.max(s.start, look.from), Math.min(s.end, look.to));
  draw(picked, "path", { class: "picked-edge", d });
  draw(picked, "path", { class: "picked-way", d });
}

// fitted maps what the timeline shows so that it fills the map's box; null where
// no place in it is known.
function fitted(view) {
  const shown = [];
  for (let i = sampleAt(look.from); i <= sampleAt(look.to); i++) {
    const p = where({ x0: 0, y0: 0, scale: 1 }, i);
    if (p) shown.push(p);
  }
  if (!shown.length) return null;
  const range = (values) => values.reduce(([a, b], v) => [Math.min(a, v), Math.max(b, v)], [Infinity, -Infinity]);
  const [west, east] = range(shown.map((p) => p.x));
  const [north, south] = range(shown.map((p) => p.y)); // y is down
  const [x, y, right, bottom] = view.box;
  const scale = 0.84 * Math.min((right - x) / Math.max(east - west, 20), (bottom - y) / Math.max(south - north, 20));
  return { x0: (x + right) / 2 - (scale * (west + east)) / 2, y0: (y + bottom) / 2 - (scale * (north + south)) / 2, scale };
}

// drawShown draws the part of the track over the whole one.
function drawShown(track) {
  const { shown, view } = track;
  shown.replaceChildren();
  const map = zoomed() ? fitted(view) : null;
  track.map = map || view;
  if (!map) return;
  const [x, y, right, bottom] = view.box;
  const cover = (x0, y0, x1, y1) => draw(shown, "rect", { class: "cover", x: x0, y: y0, width: x1 - x0, height: y1 - y0 });
  cover(0, 0, right, y - 1);
  cover(0, y - 6, x - 1, bottom + 6);
  cover(x - 24, bottom + 1, right + 10, bottom + 34);
  cover(x + 0.5, y + 0.5, right - 0.5, bottom - 0.5);
  draw(shown, "path", { class: "way other", d: way(map, look.from, look.to) });
  const here = day.stretches.filter((s) => s.end > look.from && s.start < look.to);
  for (const s of here) {
    draw(shown, "path", { class: `way ${s.kind}`, d: way(map, Math.max(s.start, look.from), Math.min(s.end, look.to)) });
  }
  for (const s of here) {
    const at = where(map, sampleAt((Math.max(s.start, look.from) + Math.min(s.end, look.to)) / 2));
    if (at && s.kind !== "other") draw(shown, "text", { class: "id beside", x: at.x + 6, y: at.y - 5 }, s.id);
  }
  drawScale(shown, view.box, map.scale);
}

// drawScale draws a round length in the corner of the map.
function drawScale(parent, [x, , right, bottom], scale) {
  const unit = scale * (day.lengthUnit === "ft" ? 0.3048 : 1); // of the figure, in one of the reader's
  const most = (right - x) / 5 / unit;
  const power = 10 ** Math.floor(Math.log10(most));
  const length = [5, 2, 1].find((m) => m * power <= most) * power;
  const [a, b, y] = [right - 14 - length * unit, right - 14, bottom - 12];
  draw(parent, "path", { class: "scale", d: `M${a},${y - 4}V${y}H${b}V${y - 4}` });
  draw(parent, "text", { class: "tick", x: (a + b) / 2, y: y - 6 }, `${length} ${day.lengthUnit}`);
}
