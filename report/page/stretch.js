
// A stretch's numbers: the card, the tables' rows, the sheets that fold out.

let opener = null; // what the card was opened from
let pickedRows = [];

// pick shows a stretch's numbers, null puts them away. Enter and buttons send the
// focus to the card; it goes back to where it came from.
function pick(s, from, focus = false) {
  if (s) opener = from || opener;
  look.picked = s;
  onPick.forEach((f) => f());
  for (const row of pickedRows) row.removeAttribute("aria-current");
  pickedRows = s ? rowsOf(s.id) : [];
  for (const row of pickedRows) row.setAttribute("aria-current", "true");
  byId("card").hidden = !s;
  if (!s) {
    if (opener && focus) opener.focus();
    return;
  }
  fillCard(s);
  if (focus) byId("card-title").focus();
  else say(`${nameOf(s)}: ${[...byId("card-numbers").children].map((pair) => [...pair.children].map((e) => e.textContent).join(" ")).join(", ")}`);
}

const rowsOf = (id) => [...document.querySelectorAll("tr[data-stretch]")].filter((row) => row.dataset.stretch === id);

function fillCard(s) {
  byId("card-title").textContent = nameOf(s);
  const length = s.length >= 0 ? `, ${s.length} ${day.lengthUnit} over ground` : "";
  byId("card-when").textContent = `${clock(s.start)} to ${clock(s.end)} ${day.zone}, ${s.lasted}${length}` +
    (s.note ? `. Noted: ${s.note}` : "") + (s.apart ? `. Left out of the results: ${s.apart}` : "");
  byId("card-numbers").replaceChildren(...numbersOf(s));
  byId("card-sums").hidden = !s.sums;
  byId("card-sums").href = `#worked-${s.id}`;
}

// numbersOf is what the page's tables say of a stretch, each name once.
function numbersOf(s) {
  const seen = new Set(["start", "lasted"]);
  const pairs = [];
  for (const row of rowsOf(s.id)) {
    const table = row.closest("table");
    if (row.closest(".behind")) continue; // the day's own table: the card's head has it
    const heads = table.tHead.rows[0].cells;
    for (let i = 1; i < row.cells.length; i++) {
      const unit = heads[i].querySelector(".unit");
      const name = heads[i].firstChild.textContent.trim();
      const value = row.cells[i].textContent.trim();
      if (seen.has(name) || value === "—") continue;
      seen.add(name);
      pairs.push(pairOf(name, unit ? `${value} ${unit.textContent}` : value));
    }
  }
  return pairs;
}

function pairOf(name, value) {
  const pair = document.createElement("div");
  const dt = document.createElement("dt");
  const dd = document.createElement("dd");
  dt.textContent = name;
  dd.textContent = value.replace(/ °/, "°");
  pair.append(dt, dd);
  return pair;
}

// beside looks at the middle of the stretch before (−1) or after (+1) the moment;
// waiting and what has no name of its own are passed over.
function beside(way) {
  const t = look.at === null ? look.from : timeOf(look.at);
  const here = look.at === null ? null : stretchAt(t);
  const named = day.stretches.filter((s) => s.kind !== "other" && s !== here);
  const s = way > 0 ? named.find((x) => x.start >= t) : named.filter((x) => x.end <= t).pop();
  if (!s) return;
  const middle = (s.start + s.end) / 2;
  intoView(middle);
  moveTo(sampleAt(middle), true);
  if (look.picked) pick(s, null);
}

function pickHere() {
  const s = look.at === null ? null : stretchAt(timeOf(look.at));
  if (s) pick(s, document.activeElement, true);
}

function makeRows() {
  for (const row of document.querySelectorAll("tr[data-stretch]")) {
    const s = day.stretches.find((x) => x.id === row.dataset.stretch);
    const cell = row.cells[0];
    if (!s) continue;
    let handle = cell.querySelector("a");
    if (!handle) {
      handle = document.createElement("button");
      handle.type = "button";
      handle.textContent = cell.textContent;
      cell.replaceChildren(handle);
    }
    handle.classList.add("pick");
    row.addEventListener("click", (e) => {
      if (e.ctrlKey || e.metaKey || e.shiftKey) return;
      const byKey = e.detail === 0;
      e.preventDefault();
      if (!byKey && String(getSelection())) return;
      moveTo(sampleAt((s.start + s.end) / 2));
      pick(s, handle, byKey);
    });
  }
}

function makeConsole() {
  const slider = byId("moment");
  const fit = () => {
    const [first, last] = [sampleAt(look.from), sampleAt(look.to)];
    slider.min = first;
    slider.max = last;
    slider.step = Math.max(1, Math.round((last - first) / 400));
    for (const id of ["zoom-out", "zoom-reset", "zoom-earlier", "zoom-later"]) byId(id).disabled = !zoomed();
  };
  onZoom.push(fit);
  onMoment.push(() => {
    slider.value = look.at;
    slider.setAttribute("aria-valuetext", `${clock(timeOf(look.at))}, ${nameOf(stretchAt(timeOf(look.at)))}`);
  });
  slider.addEventListener("input", () => moveTo(Number(slider.value), true));
  const buttons = {
    "stretch-before": () => beside(-1),
    "stretch-after": () => beside(1),
    "stretch-here": pickHere,
    "zoom-in": () => zoomBy(0.5),
    "zoom-out": () => zoomBy(2),
    "zoom-earlier": () => slide(-0.5),
    "zoom-later": () => slide(0.5),
    "zoom-reset": () => zoom(whole.from, whole.to),
    "card-close": () => pick(null, null, true),
    "card-zoom": () => zoomToPicked(),
  };
  for (const [id, act] of Object.entries(buttons)) byId(id).addEventListener("click", act);
  slider.addEventListener("keydown", (e) => {
    const act = { "+": "zoom-in", "=": "zoom-in", "-": "zoom-out", 0: "zoom-reset", n: "stretch-after", p: "stretch-before", Enter: "stretch-here" }[e.key];
    if (!act || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    buttons[act]();
  });
  document.addEventListener("keydown", (e) => {
    if (e.key === "Escape" && look.picked) pick(null, null, true);
  });
  fit();
  byId("console").hidden = false;
}

function zoomToPicked() {
  const s = look.picked;
  const margin = Math.max(20, (s.end - s.start) * 0.15);
  zoom(s.start - margin, s.end + margin);
  byId("figure-timeline").scrollIntoView({ block: "nearest" });
}

// unfold opens what a link leads to.
function unfold() {
  const target = byId(decodeURIComponent(location.hash.slice(1)));
  if (!target) return;
  for (let e = target; e; e = e.parentElement) if (e.tagName === "DETAILS") e.open = true;
  target.scrollIntoView();
}

addEventListener("hashchange", unfold);
if (location.hash) unfold();

if (day && byId("console")) {
  makeReadout();
  makeTimelines();
  makeTracks();
  if (whole) {
    makeRows();
    makeConsole();
    moveTo(sampleAt(look.from));
  }
}
