
// The track: the boat at the moment, the picked stretch, what the timeline shows.

const tracks = [];

function makeTracks() {
  for (const [name, view] of Object.entries(day.track)) {
    const root = figureOf(name);
    if (root && series.east && series.north) tracks.push(makeTrack(root, view));
  }
  onMoment.push(() => tracks.forEach(placeBoat));
  onPick.push(() => tracks.forEach(markPicked));
  onZoom.push(() => tracks.forEach(markShown));
}

function makeTrack(root, view) {
  const track = { root, view };
  for (const layer of ["shown", "picked", "boat"]) track[layer] = draw(root, "g", { class: "marks", "aria-hidden": "true" });
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
function where(view, i) {
  const east = valueAt("east", i);
  const north = valueAt("north", i);
  return east === null || north === null ? null : { x: view.x0 + view.scale * east, y: view.y0 - view.scale * north };
}

// nearest is the sample whose place is nearest to a pointer, of those that the
// timeline shows, no farther off than so many pixels.
function nearest({ view }, p, pixels) {
  let best = null;
  let least = (pixels * p.unit) ** 2;
  for (let i = sampleAt(look.from); i <= sampleAt(look.to); i++) {
    const q = where(view, i);
    const d = q ? (q.x - p.x) ** 2 + (q.y - p.y) ** 2 : Infinity;
    if (d < least) [best, least] = [i, d];
  }
  return best;
}

function placeBoat({ boat, view }) {
  boat.replaceChildren();
  const at = where(view, look.at);
  if (!at) return;
  const heading = valueAt("heading", look.at);
  const g = draw(boat, "g", { class: "boat", transform: `translate(${at.x.toFixed(1)} ${at.y.toFixed(1)})` });
  draw(g, "circle", { class: "halo", r: 11 });
  if (heading === null) draw(g, "circle", { class: "hull", r: 4.5 });
  else draw(g, "path", { class: "hull", d: "M0,-9C3.6,-5 4,-1 3.6,7H-3.6C-4,-1 -3.6,-5 0,-9Z", transform: `rotate(${heading})` });
}

// way is the path of the track from one time to another.
function way(view, from, to) {
  let path = "";
  let open = false;
  for (let i = sampleAt(from); i <= sampleAt(to); i++) {
    const p = where(view, i);
    if (p) path += `${open ? "L" : "M"}${p.x.toFixed(1)},${p.y.toFixed(1)}`;
    open = p !== null;
  }
  return path;
}

function markPicked({ picked, view }) {
  picked.replaceChildren();
  if (!look.picked) return;
  const d = way(view, look.picked.start, look.picked.end);
  draw(picked, "path", { class: "picked-edge", d });
  draw(picked, "path", { class: "picked-way", d });
}

// markShown pales the track but for what the timeline shows.
function markShown({ shown, view }) {
  shown.replaceChildren();
  if (!zoomed()) return;
  const [x, y, right, bottom] = view.box;
  draw(shown, "rect", { class: "veil", x, y, width: right - x, height: bottom - y });
  draw(shown, "path", { class: "shown-way", d: way(view, look.from, look.to) });
}
